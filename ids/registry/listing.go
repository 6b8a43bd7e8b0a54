package registry

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"pipstake/ids"
)

// listing is a file's rows as entries that bear no identifier. A registry need
// not have the file: one that is not there reads as a file without rows, and
// is made by the first command that writes into it.
type listing[T any] struct {
	*csvFile
	columns  []column[T]
	position []int // of each column in the file
	entries  []T
	damage   []Finding // cells that cannot be read, by row
	odd      []Finding // cells that are written oddly, by row
	mends    []Fix     // what is certain of them
}

func newListing[T any](name string, columns []column[T]) *listing[T] {
	return &listing[T]{csvFile: &csvFile{name: name}, columns: columns}
}

func (l *listing[T]) fileName() string { return l.name }

func (l *listing[T]) known() []string {
	names := make([]string, len(l.columns))
	for i, c := range l.columns {
		names[i] = c.name
	}
	return names
}

// late lists the names of the columns that a file need not have.
func (l *listing[T]) late() []string {
	return slices.DeleteFunc(l.known(), func(name string) bool {
		return !slices.ContainsFunc(l.columns, func(c column[T]) bool { return c.name == name && c.late })
	})
}

// blankFile is a new file, as that of a table.
func (l *listing[T]) blankFile() string { return bom + strings.Join(l.known(), ",") + "\r\n" }

// load reads the entries out of a file's text. The error is an *AccessError.
func (l *listing[T]) load(path, text string) error {
	f, err := readCSV(path, l.name, text, l.known(), l.late()...)
	if err != nil {
		return err
	}
	l.csvFile = f
	for _, c := range l.columns {
		l.position = append(l.position, slices.Index(f.names, c.name))
	}
	return f.eachRow(path, l.take)
}

// take reads one row.
func (l *listing[T]) take(row int, cells []cell) {
	var e T
	for i, c := range l.columns {
		text := ""
		if p := l.position[i]; p < min(l.width, len(cells)) {
			text = l.value(cells[p])
		}
		v := c.read(text, &e)
		if v == nil {
			continue
		}
		f := Finding{l.name, l.number(row), c.name, text, v.what, v.remedy}
		if v.damaged {
			l.damage = append(l.damage, f)
		} else {
			l.odd = append(l.odd, f)
		}
		if v.mend != "" {
			l.mends = append(l.mends, Fix{f, v.mend, row})
		}
	}
	l.entries = append(l.entries, e)
}

// append adds an entry at the end of the file.
func (l *listing[T]) append(e T) {
	cells := make([]string, len(l.names))
	for i, c := range l.columns {
		cells[l.position[i]] = c.write(&e)
	}
	l.add(cells)
	l.entries = append(l.entries, e)
}

// replace changes an entry, and in the file those of its cells that differ.
func (l *listing[T]) replace(entry int, e T) {
	for i, c := range l.columns {
		if s := c.write(&e); s != c.write(&l.entries[entry]) {
			l.set(entry, l.position[i], s)
		}
	}
	l.entries[entry] = e
}

// unreadable returns the findings on the damaged cells of an entry.
func (l *listing[T]) unreadable(entry int) []Finding {
	var found []Finding
	for _, f := range l.damage {
		if f.Row == l.number(entry) {
			found = append(found, f)
		}
	}
	return found
}

// last is none: the rows bear no identifier.
func (l *listing[T]) last(ids.ID) (ids.ID, bool) { return ids.ID{}, false }

// beyond returns the findings on cells beyond the columns where a late column
// is about to be added, which they would then seem to belong to.
func (l *listing[T]) beyond() []Finding {
	if len(l.needed) == 0 {
		return nil
	}
	var found []Finding
	for row, s := range l.rows {
		cells, _, _, _ := l.scan(l.delimiter, int(s.start), nil)
		for _, c := range cells[min(l.width, len(cells)):] {
			if text := l.value(c); strings.TrimSpace(text) != "" {
				found = append(found, Finding{l.name, l.number(row), "", text, beyondColumns, beyondRemedy})
				break
			}
		}
	}
	return found
}

func (l *listing[T]) damages() []Finding  { return l.damage }
func (l *listing[T]) oddities() []Finding { return l.odd }

// optionalFiles shows files that a registry need not have as blank ones where
// they are not there: the listings and the diary.
type optionalFiles struct {
	disk
	blank map[string]string // by name
}

// registryDisk is the real file system as a registry's store sees it.
func registryDisk() disk {
	d := optionalFiles{systemDisk{}, map[string]string{}}
	r := newTables()
	for _, t := range r.optional() {
		d.blank[t.fileName()] = t.blankFile()
	}
	return d
}

// lacks reports whether path is that of a listing and is not there.
func (d optionalFiles) lacks(path string) (blank string, yes bool) {
	if blank, yes = d.blank[filepath.Base(path)]; !yes {
		return "", false
	}
	_, err := d.disk.Resolve(path)
	return blank, errors.Is(err, fs.ErrNotExist)
}

// ReadFile returns the blank file for a listing that is not there.
func (d optionalFiles) ReadFile(path string) (string, error) {
	if blank, yes := d.lacks(path); yes {
		return blank, nil
	}
	return d.disk.ReadFile(path)
}

// Resolve leaves the path of a listing that is not there as it is.
func (d optionalFiles) Resolve(path string) (string, error) {
	if _, yes := d.lacks(path); yes {
		return path, nil
	}
	return d.disk.Resolve(path)
}

// Stat says of a listing that is not there what it would be like: as open as
// the file that marks the registry.
func (d optionalFiles) Stat(path string) (fs.FileInfo, error) {
	if _, yes := d.lacks(path); yes {
		return d.disk.Stat(filepath.Join(filepath.Dir(path), MarkerFile))
	}
	return d.disk.Stat(path)
}
