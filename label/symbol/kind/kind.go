// Package kind names the families of 2D codes, for those who make them and those
// who read them. It knows nothing else of them.
package kind

// Kind is a family of 2D codes.
type Kind int

// The kinds in use.
const (
	QR         Kind = iota + 1 // ISO/IEC 18004
	DataMatrix                 // ISO/IEC 16022, ECC 200, square
)
