package address

import (
	"fmt"
	"net/url"

	"hopperful/shop"
)

// Blend is the page of the recipe for a need.
func Blend(need string) string { return "/blend/" + Segment(need) }

// Number writes a number or an identifier as an address has it.
func Number(v any) string { return fmt.Sprint(v) }

// Fit is the page for a lot and a print.
func Fit(lot shop.LotID, need string) string {
	return "/fit/" + Segment(string(lot)) + "/" + Segment(need)
}

// Grains is the page on which a lot's grains are photographed.
func Grains(id shop.LotID) string { return Lot(id) + "/grains" }

// Family is the page of a lot's whole family.
func Family(id shop.LotID) string { return Lot(id) + "/family" }

// Learned is the page of what a mill's records have taught.
func Learned(mill string) string { return "/machines/" + Segment(mill) + "/learn" }

// Edit is the sheet that describes a machine, a person or a need anew.
func Edit(what, name string) string {
	return "/record/" + what + "?of=" + Query(name)
}

// Photo is where a photograph of a lot, or to a record, is sent.
func Photo(lot shop.LotID, record shop.RecordID) string {
	q := url.Values{}
	if lot != "" {
		q.Set("lot", string(lot))
	}
	if record != 0 {
		q.Set("record", Number(record))
	}
	return "/photo?" + q.Encode()
}

// Piece is the page that asks what a lot is.
func Piece(lot shop.LotID) string { return "/identify/" + Segment(string(lot)) }

// Topic is the calculator of one question.
func Topic(key string) string { return "/reckon/" + Segment(key) }

// Link is an address and its words.
type Link struct{ To, Say string }

// Upkeep is the page of a mill's upkeep.
func Upkeep(mill string) string { return "/machines/" + Segment(mill) + "/upkeep" }

// Run is the page of a campaign.
func Run(id shop.RecordID) string { return "/run/" + Number(id) }

// Service is the sheet for a look at a part, or a repair.
func Service(part shop.MillPart, mill string) string {
	return "/record/service?part=" + string(part) + "&mill=" + Query(mill)
}

// Plan is the plan for a need.
func Plan(need string) string { return "/plan/" + Segment(need) }

// Sieving is the page of one sieve analysis.
func Sieving(lot shop.LotID, id shop.RecordID) string {
	return Lot(lot) + "/sieve/" + Number(id)
}

// Lot is the page of a lot.
func Lot(id shop.LotID) string { return "/stock/" + Segment(string(id)) }
