package consumption_test

import (
	"errors"
	"testing"

	"hopperful/plan/consumption"
	"hopperful/shop"
	"hopperful/shop/shoptest"
)

func TestThePlasticOfAPrint(t *testing.T) {
	t.Parallel()
	pla, petg := shoptest.Scrap("PLA", "black", 1), shoptest.Scrap("PETG", "clear", 1)
	barred := shoptest.Scrap("ABS", "white", 1)
	barred.Halogen = shop.Yes
	one, two := shoptest.Bin(t, pla, shoptest.Scrap("", "", 1), barred), shoptest.Bin(t, pla, petg)
	if name, only := consumption.PlasticOf(one, ""); name != "PLA" || !only {
		t.Errorf("one in stock that may be used: %q, %v", name, only)
	}
	if name, only := consumption.PlasticOf(one, "PETG"); name != "PETG" || only {
		t.Errorf("named: %q, %v", name, only)
	}
	var asked *shop.Error
	if name, _ := consumption.PlasticOf(two, " "); name != "" || !errors.As(consumption.WhichPlastic(two), &asked) {
		t.Fatalf("two in stock: %q, %v", name, consumption.WhichPlastic(two))
	}
	if names, _ := asked.Advice.Fact("plastics"); len(names.Parts) != 2 || names.Parts[0].Text("text") != "PLA" || names.Parts[1].Text("text") != "PETG" {
		t.Errorf("two in stock, and the advice is %+v", asked.Advice)
	}
}
