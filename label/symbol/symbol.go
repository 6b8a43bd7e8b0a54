// Package symbol turns an identifier into the 2D code on a label: the payload
// that the code carries, the choice of code for the room at hand, and the
// modules to draw. It never draws.
//
// # Decisions
//
//   - Payload. IDENTIFIER.CHECK[/COPY][ TEXT] in QR's alphanumeric set, so that
//     no reader has to guess an encoding. The text is what a stranger's phone
//     shows.
//   - What scanners type (label/symbol/typed.go). A code with anything around
//     it is taken where its check character is right. A text that is none is
//     never taken: keyboard layouts, doubled and lost characters give offers,
//     and one is shown where it is the only one. One in 36 wrong offers turns
//     out right by chance, so most must be known to the registry.
package symbol

import (
	"fmt"

	"pipstake/label/symbol/kind"
)

// Kind is a family of 2D codes.
type Kind = kind.Kind

// The kinds in use.
const (
	QR         = kind.QR
	DataMatrix = kind.DataMatrix
)

// Choice is a 2D code settled on: all that there is to know of it but its
// modules.
type Choice struct {
	Kind    Kind
	Level   byte   // 'L', 'M', 'Q' or 'H' for QR, 0 for Data Matrix
	Size    int    // modules along a side, without the quiet zone
	Payload string // what a reader of the code gets
	Dots    int    // printer dots along the side of one module
	DPI     int    // printer dots in an inch
}

// Module is the side of one module in millimetres.
func (c Choice) Module() float64 { return float64(c.Dots) * 25.4 / float64(c.DPI) }

// Quiet is the width of the quiet zone in millimetres: 4 modules around a QR
// code (ISO/IEC 18004), 1 around a Data Matrix (ISO/IEC 16022).
func (c Choice) Quiet() float64 {
	if c.Kind == QR {
		return qrQuiet * c.Module()
	}
	return dmQuiet * c.Module()
}

// Width is the side of the square of modules in millimetres.
func (c Choice) Width() float64 { return float64(c.Size) * c.Module() }

// Outer is the side of the square with its quiet zone in millimetres.
func (c Choice) Outer() float64 { return c.Width() + 2*c.Quiet() }

// String names the choice in words: "QR 21×21, level Q, module 0.55 mm".
func (c Choice) String() string {
	if c.Kind == QR {
		return fmt.Sprintf("QR %d×%d, level %c, module %.2f mm", c.Size, c.Size, c.Level, c.Module())
	}
	return fmt.Sprintf("Data Matrix %d×%d, module %.2f mm", c.Size, c.Size, c.Module())
}

// Encode makes the code that was chosen. Errors are those of the function
// Encode.
func (c Choice) Encode() (*Symbol, error) {
	return encode(c)
}

// Symbol is an encoded 2D code at a printable size.
type Symbol struct {
	Choice
	modules rows
}

// Dark reports whether the module in column x and row y is printed.
func (s *Symbol) Dark(x, y int) bool { return s.modules[y]>>(63-x)&1 == 1 }
