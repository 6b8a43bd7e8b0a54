//go:build unix

package registry

import (
	"io/fs"
	"os"
	"syscall"
)

// keepOwner gives a file the owner and group of another. Whoever may not give
// files away keeps it, which the mode then has to make up for.
func keepOwner(path string, like fs.FileInfo) {
	if s, ok := like.Sys().(*syscall.Stat_t); ok {
		_ = os.Lchown(path, int(s.Uid), int(s.Gid))
	}
}
