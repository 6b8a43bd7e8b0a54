//go:build !linux

package registry

// adviseLarge does nothing: this system hands out memory as it sees fit.
func adviseLarge([]byte) {}
