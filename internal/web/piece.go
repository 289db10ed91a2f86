package web
import "hopperful/shop"
func piecePath(l shop.LotID) string { return "/identify/" + pathSegment(string(l)) }
