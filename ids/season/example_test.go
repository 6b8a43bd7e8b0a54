package season_test

import (
	"fmt"

	"pipstake/ids/season"
)

// How many seeds to sow for ten seedlings, and how sure the germination of a pot
// is: Wilson's interval at 95 %.
func Example() {
	fmt.Println(season.SeedsFor(10, 0.95, 0.8), "seeds")
	i := season.Wilson.Interval(12, 15)
	fmt.Printf("12 of 15: %.2f to %.2f\n", i.Low, i.High)
	// Output:
	// 16 seeds
	// 12 of 15: 0.55 to 0.93
}
