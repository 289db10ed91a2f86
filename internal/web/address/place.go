package address

import (
	"hopperful/fact"
	"hopperful/internal/say"
	"hopperful/shop"
)

// Places are the pages where a step or remedy is done, by its code; the words of
// the button are the line "go.…" of the catalogue.
var Places = map[string]struct {
	Path func(fact.Saying) string
	word string
}{
	"do.set_broker":         {always("/sensors"), "go.sensors"},
	"do.add_sensor":         {always("/sensors"), "go.sensors"},
	"do.confirm_run":        {seenRunOf, "go.confirm_run"},
	"do.take_idle":          {seenRunOf, "go.confirm_run"},
	"do.write_watts":        {always("/sensors"), "go.sensors"},
	"do.begin_campaign":     {always("/plan"), "go.plan_one"},
	"do.end_campaign":       {runOf, "go.campaign"},
	"do.go_on_campaign":     {runOf, "go.campaign"},
	"do.record_charge":      {runOf, "go.campaign"},
	"do.resume_campaign":    {runOf, "go.campaign"},
	"do.answer_question":    {func(s fact.Saying) string { return "/records/" + Segment(s.Text("record")) }, "go.answer"},
	"do.answer_questions":   {always("/records"), "go.answer"},
	"do.start_charge":       {runOf, "go.campaign"},
	"do.stop_charge":        {runOf, "go.campaign"},
	"do.tick_sheet":         {runOf, "go.campaign"},
	"do.check_by_magnet":    {func(s fact.Saying) string { return "/record/magnet?lot=" + Query(s.Text("lot")) }, "go.lot"},
	"do.check_by_sieve":     {func(s fact.Saying) string { return "/record/sieve?lot=" + Query(s.Text("lot")) }, "go.lot"},
	"do.look_at_part":       {partOf, "go.write_down_look"},
	"do.mend_part":          {partOf, "go.write_down_look"},
	"do.cut_metal":          {lotOf, "go.lot"},
	"do.describe_hole":      {func(s fact.Saying) string { return "/record/mill?of=" + Query(s.Text("mill")) }, "go.describe_mill"},
	"do.describe_mill":      {always("/record/mill?next=/"), "go.describe_mill"},
	"do.describe_scale":     {always("/record/scale?next=/"), "go.describe_scale"},
	"do.find_recipe":        {func(s fact.Saying) string { return Blend(s.Text("need")) }, "go.recipe"},
	"do.identify":           {func(s fact.Saying) string { return Piece(shop.LotID(s.Text("lot"))) }, "go.identify"},
	"do.keep_piece":         {func(s fact.Saying) string { return Piece(shop.LotID(s.Text("lot"))) }, "go.identify"},
	"do.mark_chlorine":      {func(s fact.Saying) string { return Piece(shop.LotID(s.Text("lot"))) }, "go.identify"},
	"do.mix_liquid":         {LiquidPath, "go.mix"},
	"do.look_at_screen":     {evidence, "go.evidence"},
	"do.name_polymer":       {always("/plan"), "go.say_need"},
	"do.name_walls":         {always("/plan"), "go.say_need"},
	"do.plan":               {func(s fact.Saying) string { return Plan(s.Text("need")) }, "go.plan"},
	"do.replace_screen":     {millOf, "go.evidence"},
	"do.say_electricity":    {always("/record/shop"), "go.prices"},
	"do.say_need":           {always("/plan"), "go.say_need"},
	"do.say_next_need":      {always("/plan"), "go.say_need"},
	"do.set_aside":          {lotOf, "go.lot"},
	"do.take_lot":           {func(s fact.Saying) string { return Fit(shop.LotID(s.Text("lot")), s.Text("need")) }, "go.fit"},
	"do.grind_more":         {func(s fact.Saying) string { return Plan(s.Text("need")) }, "go.plan"},
	"do.grind_it":           {func(s fact.Saying) string { return Plan(s.Text("need")) }, "go.plan"},
	"do.test_pieces":        {func(s fact.Saying) string { return Piece(shop.LotID(s.Text("lot"))) }, "go.identify"},
	"do.pass_magnet":        {recordOf("magnet"), "go.magnet"},
	"do.pass_some":          {recordOf("magnet"), "go.magnet"},
	"do.sieve":              {recordOf("sieve"), "go.sieve"},
	"do.dedust":             {recordOf("dedust"), "go.dedust"},
	"do.sift":               {recordOf("dedust"), "go.dedust"},
	"do.flow_test":          {recordOf("flow"), "go.flow"},
	"do.describe_printer":   {always("/record/printer"), "go.describe_printer"},
	"do.describe_hopper":    {func(s fact.Saying) string { return "/record/printer?of=" + Query(s.Text("printer")) }, "go.describe_printer"},
	"do.record_print":       {func(s fact.Saying) string { return recordOf("print")(s) + "&need=" + Query(s.Text("need")) }, "go.print"},
	"do.dry":                {dryOf, "go.dry"},
	"do.dry_otherwise":      {dryOf, "go.dry"},
	"do.describe_dryer_for": {always("/record/dryer"), "go.describe_dryer"},
	"do.describe_dryer":     {always("/record/dryer"), "go.describe_dryer"},
	"do.record_drying":      {func(s fact.Saying) string { return recordOf("dry")(s) + "&way=" + Query(s.Text("way")) }, "go.dried"},
	"do.take_colour":        {func(s fact.Saying) string { return "/record/colour?lot=" + Query(s.Text("lot")) }, "go.take_colour"},
	"do.take_in":            {always("/record/take-in"), "go.take_in"},
	"do.try_test":           {always("/identify"), "go.try"},
	"do.write_down_look":    {func(s fact.Saying) string { return Service(shop.ScreenPart, s.Text("mill")) }, "go.write_down_look"},
	"do.weigh_mill":         {func(s fact.Saying) string { return "/record/charge?mill=" + Query(s.Text("mill")) }, "go.charge"},
}

func always(path string) func(fact.Saying) string { return func(fact.Saying) string { return path } }

func lotOf(s fact.Saying) string { return Lot(shop.LotID(s.Text("lot"))) }

// LiquidPath is how the liquid of a float test is mixed.
func LiquidPath(s fact.Saying) string {
	return "/identify/liquid?liquid=" + Query(s.Text("liquid")) + "&density=" + Query(s.Text("density"))
}

func millOf(s fact.Saying) string { return Learned(s.Text("mill")) }

// partOf is where a look at a part of a mill is written down.
func partOf(s fact.Saying) string { return Service(shop.MillPart(s.Text("key")), s.Text("mill")) }

// runOf is the page of a campaign, for the phone at the mill.
func runOf(s fact.Saying) string { return "/run/" + Segment(s.Text("id")) }

// seenRunOf is the draft of a run that a sensor saw.
func seenRunOf(s fact.Saying) string { return "/sensors/runs/" + Segment(s.Text("id")) }

// evidence is the lot whose stack or magnet gave the sign, else the mill's own page.
func evidence(s fact.Saying) string {
	if s.Text("lot") != "" {
		return lotOf(s)
	}
	return millOf(s)
}

// OfStep is the page a step or remedy is done on; nil where it is done by hand.
func OfStep(p *say.Printer, s fact.Saying) *Link {
	at, ok := Places[s.Code]
	if !ok {
		return nil
	}
	return &Link{at.Path(s), p.Line(at.word, fact.Name("lot", s.Text("lot")))}
}

// recordOf is the sheet of that kind of record for a lot.
func recordOf(kind string) func(fact.Saying) string {
	return func(s fact.Saying) string { return "/record/" + kind + "?lot=" + Query(s.Text("lot")) }
}

func dryOf(s fact.Saying) string { return "/dry/" + Segment(s.Text("lot")) }
