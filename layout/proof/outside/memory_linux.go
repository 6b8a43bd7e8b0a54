package outside

import (
	"os"
	"syscall"
)

// inMemory is a folder that Linux systems keep in memory; see shm_overview(7).
const inMemory = "/dev/shm"

// KeepFilesInMemory has the temporary files of this process, and of those that it
// starts, kept in memory: to make a file on a disk can take longer than a test of what
// stands in it. TMPDIR keeps its value where it has one, and where the folder in memory
// has less than a gibibyte to spare or may start no program.
func KeepFilesInMemory() {
	const (
		tmpfs  = 0x01021994 // statfs(2): TMPFS_MAGIC
		noExec = 0x8        // ST_NOEXEC
		room   = 1 << 30
	)
	var s syscall.Statfs_t
	if os.Getenv("TMPDIR") != "" || syscall.Statfs(inMemory, &s) != nil {
		return
	}
	if s.Type == tmpfs && s.Flags&noExec == 0 && s.Bavail*uint64(s.Bsize) >= room && syscall.Access(inMemory, 7) == nil {
		os.Setenv("TMPDIR", inMemory)
	}
}
