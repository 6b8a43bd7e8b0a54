package terminal

import (
	"os"

	"golang.org/x/sys/windows"
)

// takesEscapes makes a console of Windows take escape sequences, as those before
// Windows Terminal do on request, and reports whether it does.
func takesEscapes(f *os.File) bool {
	var mode uint32
	console := windows.Handle(f.Fd())
	if err := windows.GetConsoleMode(console, &mode); err != nil {
		return false
	}
	return windows.SetConsoleMode(console, mode|windows.ENABLE_VIRTUAL_TERMINAL_PROCESSING) == nil
}
