package plot_test

import (
	"fmt"
	"strings"
	"time"

	"pipstake/ids/season"
	"pipstake/layout/plot"
)

// The chart of one pot, of which the row says how much it rests on.
func ExampleGermination_Draw() {
	group := season.Group{Name: "2026X012", Sown: 15, Up: 12, Expected: 0.8, Curve: []season.Point{{}, {Day: 35, Up: 8}, {Day: 49, Up: 12}}}
	chart := plot.Germination{Method: "Wilson", Groups: []plot.Group{{Group: group, Interval: season.Wilson.Interval(12, 15), Label: "2026X012"}}}
	svg, err := chart.Draw("svg", time.Date(2027, 3, 1, 12, 0, 0, 0, time.UTC))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(strings.Contains(string(svg), ">12 of 15</text>"))
	// Output:
	// true
}
