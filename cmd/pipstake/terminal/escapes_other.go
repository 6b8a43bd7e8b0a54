//go:build !windows

package terminal

import "os"

// takesEscapes reports whether a terminal takes escape sequences.
func takesEscapes(*os.File) bool { return true }
