package terminal

import (
	"fmt"
	"os"
	"strings"
)

// The pattern of a 2D code is the one thing that needs colours: a reader wants it
// dark on light, whatever the ground of the terminal is. They are set for the
// pattern alone, black on white, with a white that older terminals know before the
// bright one.
const (
	blackOnWhite = "\x1b[30;47;107m"
	asBefore     = "\x1b[0m"
)

// halves are the characters for two modules one above the other, by whether the
// upper and the lower one is drawn.
var halves = map[[2]bool]string{{false, false}: " ", {true, false}: "▀", {false, true}: "▄", {true, true}: "█"}

// SayModules draws a square of modules with a light border around it, two rows a
// line. It reports whether it did: only a terminal that is wide enough can show it.
// One that knows no colours is taken to have a dark ground.
func (v *Voice) SayModules(size, border int, dark func(x, y int) bool) bool {
	if v.columns == nil || v.columns() < size+2*border {
		return false
	}
	defer v.pauseProgress()()
	before, behind := "", ""
	if v.paints {
		before, behind = blackOnWhite, asBefore
	}
	inside := func(x, y int) bool {
		x, y = x-border, y-border
		return 0 <= x && x < size && 0 <= y && y < size && dark(x, y)
	}
	for y := 0; y < size+2*border; y += 2 {
		var line strings.Builder
		for x := range size + 2*border {
			line.WriteString(halves[[2]bool{inside(x, y) == v.paints, inside(x, y+1) == v.paints}])
		}
		fmt.Fprintf(v.out, "%s%s%s\n", before, line.String(), behind) // a failure is kept until Flush
	}
	return true
}

// paintsOn reports whether a stream is a terminal that knows colours.
func paintsOn(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && IsTerminal(stream) && os.Getenv("TERM") != "dumb" && takesEscapes(f)
}
