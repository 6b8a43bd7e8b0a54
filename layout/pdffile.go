package layout

import (
	"bytes"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// The library has no setter for the entries of the catalog, and writes page sizes to a
// hundredth of a point. So its finished file is taken apart into objects and written
// once more.

// catalog is the root of a document that asks viewers not to scale it, and to
// print one side or turn its sheets over the right edge (ISO 32000-1, table 150; since PDF 1.6
// and 1.7). Viewers are free to ignore both.
func catalog(f Flip) string {
	duplex := " /Duplex /Simplex"
	switch f {
	case LongEdge:
		duplex = " /Duplex /DuplexFlipLongEdge"
	case ShortEdge:
		duplex = " /Duplex /DuplexFlipShortEdge"
	}
	return "<</Type /Catalog /Pages 1 0 R /ViewerPreferences <</PrintScaling /None" + duplex + ">>>>"
}

// header names the version; the second line tells that the file is binary (ISO
// 32000-1, 7.5.2).
const header = "%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"

var (
	startPattern = regexp.MustCompile(`startxref\n(\d{1,15})\n%%EOF\s*$`)
	tablePattern = regexp.MustCompile(`^xref\n0 \d+\n((?:\d{10} \d{5} [fn][ \r]?\n)+)`)
	entryPattern = regexp.MustCompile(`(\d{10}) 00000 n`)
	rootPattern  = regexp.MustCompile(`/Root (\d{1,9}) 0 R`)
	infoPattern  = regexp.MustCompile(`/Info (\d{1,9}) 0 R`)
	boxPattern   = regexp.MustCompile(`/MediaBox \[[^]]*\]`)
	datePattern  = regexp.MustCompile(`\((D:\d{14})\)`)
	fontPattern  = regexp.MustCompile(`/(BaseFont|FontName) /utf8`)
)

// errDrawn says that the library's file is not built as expected. No input
// leads to it.
var errDrawn = errors.New("the drawn file is not in the form that is known")

// finish rewrites a file whose pages are empty with their packed contents, fonts by
// shorter names, our catalog, the media box on every page, fonts marked as subsets, and
// dates marked as universal time.
func finish(w io.Writer, raw []byte, contents [][]byte, shorter *strings.Replacer, catalog, mediaBox string) error {
	start, err := number(startPattern, raw)
	if err != nil || start > len(raw) {
		return errDrawn
	}
	root, err1 := number(rootPattern, raw[start:])
	info, err2 := number(infoPattern, raw[start:])
	objects, err3 := takeApart(raw, start)
	if err := errors.Join(err1, err2, err3); err != nil {
		return err
	}
	const page = "<</Type /Page\n"
	pages := 0
	tag := []byte("/$1 /" + subsetTag(raw) + "+")
	for i, body := range objects {
		switch {
		case i+1 == root:
			body = []byte(catalog)
		case i+1 == info:
			body = datePattern.ReplaceAll(body, []byte("(${1}Z)"))
		case i == 0: // the list of pages
			body = boxPattern.ReplaceAll(body, []byte("/MediaBox "+mediaBox))
		case i == 1: // what all pages use
			body = []byte(shorter.Replace(string(body)))
		case bytes.HasPrefix(body, []byte(page)):
			if !bytes.HasSuffix(body, fmt.Appendf(nil, "/Contents %d 0 R>>", i+2)) || i+1 == len(objects) || pages == len(contents) {
				return errDrawn
			}
			objects[i+1] = fmt.Appendf(nil, "<</Filter /FlateDecode /Length %d>>\nstream\n%s\nendstream", len(contents[pages]), contents[pages])
			pages++
			body = append([]byte("<</Type /Page /MediaBox "+mediaBox+"\n"), body[len(page):]...)
		case bytes.HasPrefix(body, []byte("<</Type /Font")):
			body = fontPattern.ReplaceAll(body, tag)
		}
		objects[i] = body
	}
	if pages < len(contents) {
		return errDrawn
	}
	return putTogether(w, objects, root, info)
}

// subsetTag is six capital letters that mark a font as cut down to the
// characters of this document (ISO 32000-1, 9.6.4), so that nothing that joins
// documents takes it for the font of another.
func subsetTag(raw []byte) string {
	h := fnv.New64a()
	h.Write(raw)
	tag := make([]byte, 6)
	for i, sum := 0, h.Sum64(); i < len(tag); i, sum = i+1, sum/26 {
		tag[i] = 'A' + byte(sum%26)
	}
	return string(tag)
}

// number is the first number that the pattern finds.
func number(pattern *regexp.Regexp, raw []byte) (int, error) {
	m := pattern.FindSubmatch(raw)
	if m == nil {
		return 0, errDrawn
	}
	return strconv.Atoi(string(m[1]))
}

// takeApart returns the bodies of all objects, from object 1 on. The file's table
// of where they begin starts at table.
func takeApart(raw []byte, table int) ([][]byte, error) {
	m := tablePattern.FindSubmatch(raw[table:])
	if m == nil {
		return nil, errDrawn
	}
	var starts []int
	for _, entry := range entryPattern.FindAllSubmatch(m[1], -1) {
		at, err := strconv.Atoi(string(entry[1]))
		if err != nil || at >= table {
			return nil, errDrawn
		}
		starts = append(starts, at)
	}
	ends := append(slices.Sorted(slices.Values(starts)), table)
	objects := make([][]byte, len(starts))
	for i, at := range starts {
		next, _ := slices.BinarySearch(ends, at+1)
		number, body, ok := bytes.Cut(bytes.TrimRight(raw[at:ends[next]], "\r\n "), []byte(" 0 obj\n"))
		body, closed := bytes.CutSuffix(body, []byte("\nendobj"))
		if !ok || !closed || string(number) != strconv.Itoa(i+1) {
			return nil, errDrawn
		}
		objects[i] = body
	}
	return objects, nil
}

// putTogether writes objects, numbered from 1, as a file with its table.
func putTogether(w io.Writer, objects [][]byte, root, info int) error {
	var out, table bytes.Buffer
	out.WriteString(header)
	for i, body := range objects {
		fmt.Fprintf(&table, "%010d 00000 n \n", out.Len())
		fmt.Fprintf(&out, "%d 0 obj\n%s\nendobj\n", i+1, body)
	}
	start := out.Len()
	size := len(objects) + 1
	fmt.Fprintf(&out, "xref\n0 %d\n0000000000 65535 f \n%s", size, table.Bytes())
	fmt.Fprintf(&out, "trailer\n<</Size %d /Root %d 0 R /Info %d 0 R>>\nstartxref\n%d\n%%%%EOF\n", size, root, info, start)
	_, err := w.Write(out.Bytes())
	return err
}
