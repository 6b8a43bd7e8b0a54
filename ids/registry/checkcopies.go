package registry

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// Second copies of the files, which sync programs, file managers and people leave
// beside them under names of all kinds. They are never read.

// copyMark is what sync programs, file managers and this program put into the
// name of a second copy.
var copyMark = regexp.MustCompile(`(?i)conflict|copy|\(\d+\)`)

// copies reports what looks like a second copy of one of the files: by the columns
// that it has, whatever it is called, or by its name where it cannot be read.
func (c *checker) copies() {
	const remedy = "compare the two, carry over what is missing, and delete the copy"
	files := fileNames()
	for _, name := range c.r.beside {
		lower := strings.ToLower(name)
		if filepath.Ext(lower) != ".csv" || slices.Contains(files, name) {
			continue
		}
		named := slices.IndexFunc(files, func(file string) bool {
			return copyMark.MatchString(name) && strings.Contains(lower, strings.TrimSuffix(file, ".csv"))
		})
		if named >= 0 {
			c.add(Finding{File: name, What: "looks like a second copy of " + files[named] + ", and is not read", Remedy: remedy})
		} else if file := tableOf(c.r.head(name)); file != "" && !takenIn(file, lower) {
			c.add(Finding{File: name, What: "has the columns of " + file + ", and is not read",
				Remedy: remedy + "; what is kept for another purpose belongs into another folder"})
		}
	}
}

// takenIn reports whether a file with the columns of a table may be a list that a
// command takes in, of varieties or counts: it is not called as the table is.
func takenIn(file, lower string) bool {
	return (file == varietiesFile || file == emergenceFile) && !strings.Contains(lower, strings.TrimSuffix(file, ".csv"))
}

// tableOf is the file whose columns a header has; "" for none.
func tableOf(header string) string {
	if strings.TrimSpace(header) == "" {
		return ""
	}
	for _, t := range newTables().tables() {
		if t.load("", header) == nil {
			return t.fileName()
		}
	}
	return ""
}

// head is the header of a file in the folder, with the line before it that names
// the delimiter where there is one; "" where it cannot be read, or is so large
// that it is none of the registry's.
func (s store) head(name string) string {
	const most = 256 << 20 // bytes
	info, err := s.disk.Stat(s.path(name))
	if err != nil || info.Size() > most {
		return ""
	}
	text, err := s.disk.ReadFile(s.path(name))
	if err != nil {
		return ""
	}
	first, rest := cutLine(text)
	if strings.HasPrefix(strings.ToLower(strings.TrimPrefix(first, bom)), "sep=") {
		second, _ := cutLine(rest)
		return first + "\n" + second
	}
	return first
}

// cutLine cuts a text behind its first line.
func cutLine(text string) (line, rest string) {
	end := strings.IndexAny(text, "\r\n")
	if end < 0 {
		return text, ""
	}
	rest = text[end+1:]
	if text[end] == '\r' {
		rest = strings.TrimPrefix(rest, "\n")
	}
	return text[:end], rest
}
