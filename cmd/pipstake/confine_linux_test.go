package main

import (
	"os"
	"os/signal"
	"strconv"
	"syscall"
)

// canConfine says that the scripts about full disks and missing permission can
// run here.
const canConfine = true

// confine puts this process into a narrow place, as the script's environment
// asks. LARGEST_FILE is the size that no file can outgrow, in bytes: writing
// fails in the same place as on a full disk. NOT_ROOT=1 gives up the rights of
// root, who may write everywhere.
func confine() error {
	if text := os.Getenv("LARGEST_FILE"); text != "" {
		n, err := strconv.ParseUint(text, 10, 64)
		if err != nil {
			return err
		}
		signal.Ignore(syscall.SIGXFSZ) // so that the write gives an error
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: n, Max: n}); err != nil {
			return err
		}
	}
	if os.Getenv("NOT_ROOT") != "" && os.Getuid() == 0 {
		const nobody = 65534
		if err := syscall.Setgroups(nil); err != nil {
			return err
		}
		if err := syscall.Setgid(nobody); err != nil {
			return err
		}
		return syscall.Setuid(nobody)
	}
	return nil
}
