package practice_test

import (
	"fmt"

	"pipstake/ids/practice"
)

// A setting that the file does not name is common practice.
func ExampleParse() {
	p, err := practice.Parse([]byte("[cold]\nleast_days = 50\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(p.Cold.LeastDays, "to", p.Cold.MostDays, "days of cold at", p.Cold.Celsius, "°C")
	// Output:
	// 50 to 60 days of cold at 4 °C
}
