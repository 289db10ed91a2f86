package shop_test

import (
	"hopperful/internal/say"
	"hopperful/shop"
)

func init() { shop.SetWorded(say.For("en").Say) }
