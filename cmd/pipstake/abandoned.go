package main

import (
	"os"
	"path/filepath"
	"regexp"
	"time"
)

// abandonedName is how temporary files and folders of this program are called.
var abandonedName = regexp.MustCompile(`^\.pipstake-(\d+-\d+\.tmp|new-\d+)$`)

// abandonedAfter is how long nothing was written to one that no command has any
// more: they live for seconds.
const abandonedAfter = time.Hour

// clearAbandoned removes temporary files and folders of killed commands from a
// folder. What cannot be removed now, such as one that is still open on Windows,
// is left for the next time.
func clearAbandoned(dir string) {
	entries, _ := os.ReadDir(dir) // one that cannot be read is told by what follows
	for _, entry := range entries {
		if !abandonedName.MatchString(entry.Name()) {
			continue
		}
		info, err := entry.Info()
		if err != nil || !(info.Mode().IsRegular() || info.IsDir()) || time.Since(info.ModTime()) < abandonedAfter {
			continue
		}
		_ = os.RemoveAll(filepath.Join(dir, entry.Name()))
	}
}
