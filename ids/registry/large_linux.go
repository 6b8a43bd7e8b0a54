package registry

import (
	"unsafe"

	"golang.org/x/sys/unix"
)

// adviseLarge asks for large pages for memory that has not been touched yet. It
// is advice only: where the system does not take it, nothing changes.
func adviseLarge(memory []byte) {
	const large = 2 << 20 // bytes in a large page
	start := -uintptr(unsafe.Pointer(unsafe.SliceData(memory))) % large
	if uintptr(len(memory)) < start+large {
		return
	}
	end := start + (uintptr(len(memory))-start)/large*large
	_ = unix.Madvise(memory[start:end], unix.MADV_HUGEPAGE)
}
