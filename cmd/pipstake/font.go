package main

import (
	"fmt"

	"pipstake/ids/plainfile"
	"pipstake/ids/problem"
	"pipstake/label"
)

// font adds the flag that names a font for names.
func (f *flags) font() *string {
	return f.text("font", "a TrueType `FILE` (.ttf) for names with letters that the font of the program lacks")
}

// typeface reads the font that --font names; nil where it names none.
func (e *env) typeface(path string) (*label.Typeface, error) {
	if path == "" {
		return nil, nil
	}
	const most = 64 << 20 // bytes
	ttf, err := plainfile.Read(e.abs(path), most)
	if err != nil {
		return nil, problem.Use(fmt.Sprintf("--font %s: %s", quotedPath(path), problem.Reason(err)), "name a font file that can be read, a .ttf")
	}
	face, err := label.NewTypeface("Names", path, ttf)
	if err != nil {
		return nil, problem.Use(fmt.Sprintf("--font %s: the font %s", quotedPath(path), err), "name another font file, a .ttf with TrueType outlines")
	}
	return face, nil
}
