package main

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// usedBefore is the list of registries that were used on this machine, in the
// user's folder of settings. It only helps to find one again: nothing depends on
// it, and where it cannot be read or written no command minds.
type usedBefore struct{ file string }

// usedBeforeIn is the list below the folder of settings; "" for none.
func usedBeforeIn(settings string) usedBefore {
	if settings == "" {
		return usedBefore{}
	}
	return usedBefore{filepath.Join(settings, "pipstake", "registries.txt")}
}

// folders are the registries of the list that are there now, the last one used
// first.
func (u usedBefore) folders() []string {
	var there []string
	for _, dir := range u.listed() {
		if found, err := registry.Find(dir, "", dir); err == nil && !slices.Contains(there, found) {
			there = append(there, found)
		}
	}
	return there
}

// listed are the lines of the list.
func (u usedBefore) listed() []string {
	const most = 64 << 10 // bytes
	text, err := os.ReadFile(u.file)
	if u.file == "" || err != nil || len(text) > most {
		return nil
	}
	return strings.FieldsFunc(string(text), func(r rune) bool { return r == '\n' })
}

// remember puts a registry first in the list.
func (u usedBefore) remember(dir string) {
	const most = 8 // registries
	all := u.listed()
	if u.file == "" || len(all) > 0 && all[0] == dir || strings.Contains(dir, "\n") {
		return
	}
	all = append([]string{dir}, slices.DeleteFunc(all, func(d string) bool { return d == dir })...)
	all = all[:min(len(all), most)]
	_ = u.write(strings.Join(all, "\n") + "\n") // see usedBefore
}

// write replaces the list.
func (u usedBefore) write(text string) error {
	folder := filepath.Dir(u.file)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	f, err := os.CreateTemp(folder, "registries")
	if err != nil {
		return err
	}
	_, err = f.WriteString(text)
	if err = errors.Join(err, f.Close()); err == nil {
		err = os.Rename(f.Name(), u.file)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}

// whereIsIt is what to do where no registry was found: first where it is, last how
// to begin one.
func (e *env) whereIsIt() string {
	known := ""
	if used := usedBeforeIn(e.settings).folders(); len(used) > 0 {
		known = "used before on this machine: " + strings.Join(words.Few(used, 4), ", ") + "; "
	}
	return "where is it? " + known + "go there, add --registry DIR, or set PIPSTAKE_REGISTRY to it; only where there is none yet: pipstake init"
}
