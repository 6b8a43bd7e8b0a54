package registry

import "unsafe"

// makeLarge makes a slice of n elements, in large pages where the system gives
// them: on a table of a million rows, being handed memory by the small page
// takes longer than reading the rows.
func makeLarge[T any](n int) []T {
	s := make([]T, n)
	if n > 0 {
		adviseLarge(unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(s))), uintptr(n)*unsafe.Sizeof(s[0])))
	}
	return s
}
