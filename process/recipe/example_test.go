package recipe_test

import (
	"context"
	"fmt"
	"math"

	"hopperful/process/recipe"
)

// A kilogram for the next print from four lots, at most three of them, in
// scoops of 20 g: mean age at most 2 passes, melt flow (its logarithm mixes by
// mass) 6 to 8 g/10 min, dust at most 2 %. Old stock counts as gain, virgin costs.
func Example() {
	problem := recipe.Problem{
		Mass: 1, Most: 3,
		Lots: []recipe.Lot{
			{Cost: 20, Stock: 5, Step: 0.02, Least: 0.1}, // virgin
			{Cost: -1, Stock: 0.8, Step: 0.02, Least: 0.1},
			{Cost: -3, Stock: 0.5, Step: 0.02, Least: 0.1},
			{Cost: -2, Stock: 0.3, Step: 0.02, Least: 0.1},
		},
		Limits: []recipe.Limit{
			{Of: []float64{0, 1, 3, 4}, Lo: math.Inf(-1), Hi: 2},
			{Of: []float64{math.Log(6), math.Log(7), math.Log(9), math.Log(12)}, Lo: math.Log(6), Hi: math.Log(8)},
			{Of: []float64{0, 0.01, 0.04, 0.03}, Lo: math.Inf(-1), Hi: 0.02},
		},
	}
	answer, err := recipe.Solve(context.Background(), problem, recipe.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for k, r := range answer.Recipes {
		fmt.Printf("%d: cost %.2f:", k+1, r.Cost)
		for _, u := range r.Uses {
			fmt.Printf(" lot %d %d scoops", u.Lot, u.Steps)
		}
		fmt.Printf("; age %.2f, melt flow %.2f, dust %.2f %%\n", r.Limits[0].Value, math.Exp(r.Limits[1].Value), 100*r.Limits[2].Value)
	}
	for k, l := range answer.Recipes[0].Limits {
		if l.Binds() {
			fmt.Printf("limit %d binds\n", k)
		}
	}
	// Output:
	// 1: cost -1.64: lot 1 34 scoops lot 2 16 scoops; age 1.64, melt flow 7.59, dust 1.96 %
	// 2: cost -1.24: lot 1 38 scoops lot 3 12 scoops; age 1.72, melt flow 7.97, dust 1.48 %
	// 3: cost 3.20: lot 0 10 scoops lot 1 40 scoops; age 0.80, melt flow 6.79, dust 0.80 %
	// limit 2 binds
}

// No blend of these two is young enough: the answer says what contradicts what,
// and which blend comes nearest.
func Example_conflict() {
	problem := recipe.Problem{
		Mass: 1,
		Lots: []recipe.Lot{{Cost: 20, Stock: 0.2}, {Cost: 1, Stock: 2}},
		Limits: []recipe.Limit{
			{Of: []float64{0, 3}, Lo: math.Inf(-1), Hi: 2},
			{Of: []float64{0.01, 0.02}, Lo: math.Inf(-1), Hi: 0.05},
		},
	}
	answer, err := recipe.Solve(context.Background(), problem, recipe.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("upper limits %v, stock: %v\n", answer.Conflict.High, answer.Conflict.Stock)
	fmt.Printf("nearest: over the first limit by %.2f\n", answer.Nearest.Over[0])
	// Output:
	// upper limits [0], stock: true
	// nearest: over the first limit by 0.40
}
