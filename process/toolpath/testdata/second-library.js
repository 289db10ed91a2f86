// Adds up the sample files with general-purpose G-code libraries, as a second
// opinion on process/toolpath. Run once, by hand:
//
//   npm install gcode-toolpath@3.0.0 gcode-parser@2.2.0
//   node second-library.js box.gcode vase.gcode tray.gcode planes.nc
//
// gcode-toolpath walks the moves (planes, units, distance modes, arcs by centre
// or radius, G92); gcode-parser splits the words, of which E is added up here.
const fs = require('fs');
const Toolpath = require('gcode-toolpath');
const parser = require('gcode-parser');

// A line's end points and an arc's centre are what the library gives; the
// lengths between them are school geometry.
function measure(text) {
  let length = 0, arcs = 0;
  const lo = [Infinity, Infinity, Infinity], hi = [-Infinity, -Infinity, -Infinity];
  const point = (v) => [v.x, v.y, v.z].forEach((c, i) => { lo[i] = Math.min(lo[i], c); hi[i] = Math.max(hi[i], c); });
  const path = new Toolpath({
    addLine: (modal, a, b) => {
      length += Math.hypot(b.x - a.x, b.y - a.y, b.z - a.z);
      point(a); point(b);
    },
    addArcCurve: (modal, a, b, c) => {
      // In the arc's own plane x, y and along z, for any of the three planes.
      const start = Math.atan2(a.y - c.y, a.x - c.x), end = Math.atan2(b.y - c.y, b.x - c.x);
      let turn = end - start;
      if (modal.motion === 'G2') turn = -turn;
      while (turn <= 1e-9) turn += 2 * Math.PI;
      while (turn > 2 * Math.PI + 1e-9) turn -= 2 * Math.PI;
      length += Math.hypot(turn * Math.hypot(a.x - c.x, a.y - c.y), b.z - a.z);
      arcs += 1;
    },
  });
  path.loadFromStringSync(text);
  return { length_mm: length, arcs: arcs, low: lo, high: hi };
}

// The highest stand of what each tool has pushed in all: retractions and what
// brings them back cancel.
function counters(text) {
  const sum = {}, highest = {};
  let tool = 0, at = 0, relative = false;
  for (const line of parser.parseStringSync(text)) {
    const words = Object.fromEntries(line.words);
    if (words.M === 83) relative = true;
    if ('T' in words && !('M' in words)) tool = words.T;
    if (!('E' in words)) continue;
    if (words.G === 92) { at = words.E; continue; }
    const step = relative ? words.E : words.E - at;
    at += step;
    sum[tool] = (sum[tool] || 0) + step;
    highest[tool] = Math.max(highest[tool] || 0, sum[tool]);
  }
  return highest;
}

for (const name of process.argv.slice(2)) {
  const text = fs.readFileSync(name, 'utf8');
  console.log(name, JSON.stringify({ ...measure(text), E: counters(text) }));
}
