package main

import (
	"os"
	"runtime"
	"runtime/debug"
)

// putOffCollection lets the heap grow to 32 MiB, eight times as far as usual,
// before garbage is collected for the first time: most commands end before, and
// a few collections would take them about as long as their work. After that one
// all is as usual; it is from the start where GOGC asks for something else.
func putOffCollection() {
	const times = 8
	if os.Getenv("GOGC") != "" {
		return
	}
	usual := debug.SetGCPercent(times * 100)
	sentinel := &struct{ p *int }{&usual} // unreachable, so the first collection finds it
	runtime.AddCleanup(sentinel, func(percent int) { debug.SetGCPercent(percent) }, usual)
}
