package ageing

import (
	"math"
	"testing"
)

// The chains that water cuts, each field read from its own column: a low end below and a
// high end above, neither of them the middle; PET by the viscosity its row gives,
// 0.80 dL/g = 2.1e-4 Mn^0.82 (Mn in g/mol).
func TestChainsAreReadByColumn(t *testing.T) {
	t.Parallel()
	all, err := chains()
	if err != nil || len(all) < 4 {
		t.Fatalf("%d rows, %v", len(all), err)
	}
	for _, c := range all {
		if got, ok := Hydrolyses(c.Polymer); !ok || got != c || !(c.Low < c.Molar && c.Molar < c.High) || c.Low < 5 || c.High > 200 || c.Mark == "" || c.Place == c.Source && c.Place == c.Mark {
			t.Errorf("%+v", c)
		}
	}
	if pet, ok := Hydrolyses("PET"); !ok || math.Abs(2.1e-4*math.Pow(pet.Molar*1e3, 0.82)-0.80) > 0.005 {
		t.Errorf("%+v", pet)
	}
	rows := "polymer,molar,low,high,unit,source,place,mark\n"
	for line, in := range map[string]bool{
		"A,20,10,30,kg/mol,s,p,m": true, "A,20,20,20,kg/mol,s,p,m": true, "A,20,21,30,kg/mol,s,p,m": false, "A,20,10,19,kg/mol,s,p,m": false, "A,0,0,30,kg/mol,s,p,m": false,
		"A,20,10,30,g/mol,s,p,m": false, "A,20,10,30,kg/mol,,p,m": false, "A,20,10,30,kg/mol,s,p,": false, "A,x,10,30,kg/mol,s,p,m": false,
	} {
		got, err := readChains(rows + line + "\n")
		if (err == nil) != in || in && (len(got) != 1 || got[0].Source != "s" || got[0].Place != "p" || got[0].Mark != "m" || got[0].Molar != 20) {
			t.Errorf("%s: %+v, %v", line, got, err)
		}
	}
}

// What a property may become: twenty times a pass is 6.4e7 after six and 1.28e9 after seven
// passes, more than the 1e9 that is told.
func TestPropertiesHaveAnEnd(t *testing.T) {
	t.Parallel()
	for n, in := range map[int]bool{6: true, 7: false} {
		a, err := Passed(n)
		if err != nil {
			t.Fatal(err)
		}
		v, err := Retained(a, 20)
		w, also := RetainedLog(a, 20)
		if (err == nil) != in || (also == nil) != in || in && (math.Abs(v/6.4e7-1) > 1e-12 || math.Abs(w/6.4e7-1) > 1e-9) {
			t.Errorf("%d passes: %g and %g, %v, %v", n, v, w, err, also)
		}
	}
}

// A blend of one part flows as that part, a thousand alike as each, one more is refused.
func TestBlendsOfFlows(t *testing.T) {
	t.Parallel()
	for n, in := range map[int]bool{0: false, 1: true, 1000: true, 1001: false} {
		flows, shares := make([]float64, n), make([]float64, n)
		for i := range flows {
			flows[i], shares[i] = 2e-6, 1/float64(n)
		}
		v, err := BlendFlow(flows, shares)
		if (err == nil) != in || in && math.Abs(v/2e-6-1) > 1e-9 {
			t.Errorf("%d parts: %g, %v", n, v, err)
		}
	}
	if _, err := BlendFlow([]float64{1e-6, 2e-6}, []float64{1}); err == nil {
		t.Error("two flows have one share")
	}
}

// Studies are read by column as well.
func TestStudiesAreReadByColumn(t *testing.T) {
	t.Parallel()
	head := "polymer,property,passes,ratio,low,high,condition,source,place,mark\n"
	for line, in := range map[string]bool{
		"A,toughness,2,0.8,0.7,0.9,c,s,p,m": true, "A,toughness,2,0.8,0.81,0.9,c,s,p,m": false, "A,toughness,2,0.8,0.7,0.79,c,s,p,m": false,
		"A,toughness,0,0.8,0.7,0.9,c,s,p,m": false, "A,toughness,2,0.8,0.7,0.9,c,,p,m": false, "A,toughness,2,0.8,0.7,0.9,c,s,p,": false,
	} {
		got, err := readStudies(head + line + "\n")
		want := Study{"A", Toughness, 2, 0.8, 0.7, 0.9, "c", "s", "p", "m"}
		if (err == nil) != in || in && (len(got) != 1 || got[0] != want) {
			t.Errorf("%s: %+v, %v", line, got, err)
		}
	}
}
