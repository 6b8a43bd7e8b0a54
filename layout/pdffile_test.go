package layout

import (
	"bytes"
	"fmt"
	"io"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"
)

// asNamed leaves the names of fonts as they are.
var asNamed = strings.NewReplacer()

func TestFileIsSound(t *testing.T) {
	for _, name := range []string{"a4-3x8-70x37", "a4-cut-148x20", "letter-cut-148x20"} {
		pdf := write(t, filled(t, find(t, name), 600, 3, 2))
		out := program(t, pdf, "qpdf", "--check", "@")
		if !bytes.Contains(out, []byte("No syntax or stream encoding errors found")) || bytes.Contains(out, []byte("WARNING")) {
			t.Errorf("%s: %s", name, out)
		}
	}
}

// ISO 32000-1: PrintScaling is an entry of the viewer preferences (table 150),
// which are an entry of the catalog (table 28), since PDF 1.6.
func TestCatalogAsksForActualSize(t *testing.T) {
	pdf := write(t, filled(t, find(t, "a4-3x8-70x37"), 600, 1, 2))
	if !bytes.HasPrefix(pdf, []byte("%PDF-1.7\n")) {
		t.Errorf("the file starts %q", pdf[:9])
	}
	out := program(t, pdf, "qpdf", "--json=2", "--json-key=qpdf", "@")
	compact := strings.Join(strings.Fields(string(out)), "")
	if !strings.Contains(compact, `"/Type":"/Catalog","/ViewerPreferences":{"/Duplex":"/Simplex","/PrintScaling":"/None"}`) {
		t.Errorf("no such entry in the catalog:\n%s", out)
	}
}

func TestDocumentSaysWhatItIs(t *testing.T) {
	job := filled(t, find(t, "a4-3x8-70x37"), 600, 1, 2)
	job.Title = "Étiquettes (batch 7)"
	job.Created = time.Date(2027, 1, 14, 9, 30, 0, 0, time.FixedZone("east", 3600))
	out := string(program(t, write(t, job), "pdfinfo", "-isodates", "-enc", "UTF-8", "@"))
	for _, want := range []string{`Title: +Étiquettes \(batch 7\)\n`, `Producer: +pipstake\n`,
		`CreationDate: +2027-01-14T08:30:00Z\n`, `ModDate: +2027-01-14T08:30:00Z\n`,
		`Pages: +1\n`, `Page size: +595.32 x 841.92 pts \(A4\)\n`, `PDF version: +1.7\n`} {
		if !regexp.MustCompile(want).MatchString(out) {
			t.Errorf("no %q in\n%s", want, out)
		}
	}
}

func TestFontsAreEmbeddedSubsets(t *testing.T) {
	out := string(program(t, write(t, filled(t, find(t, "a4-cut-148x20"), 600, 1, 2)), "pdffonts", "@"))
	for _, name := range []string{"gobold", "goregular"} {
		if !regexp.MustCompile(`(?m)^[A-Z]{6}\+` + name + ` +CID TrueType +Identity-H +yes yes yes `).MatchString(out) {
			t.Errorf("no embedded subset of %s:\n%s", name, out)
		}
	}
}

func TestSameJobGivesSameBytes(t *testing.T) {
	job := filled(t, find(t, "a4-cut-148x20"), 600, 2, 5)
	want := write(t, job)
	for range 20 {
		if !bytes.Equal(write(t, job), want) {
			t.Fatal("two runs differ")
		}
	}
	job.Created = job.Created.Add(time.Second)
	if bytes.Equal(write(t, job), want) {
		t.Error("another date gives the same bytes")
	}
}

// Font bytes shared between documents are reported to race; run with -race.
func TestDocumentsAtOnce(t *testing.T) {
	jobs := []Job{filled(t, find(t, "a4-cut-148x20"), 600, 1, 6), filled(t, find(t, "a4-3x8-70x37"), 600, 1, 3)}
	want := [][]byte{write(t, jobs[0]), write(t, jobs[1])}
	var all sync.WaitGroup
	for i := range 6 {
		all.Go(func() {
			var out bytes.Buffer
			if err := WritePDF(&out, jobs[i%2]); err != nil {
				t.Error(err)
			} else if !bytes.Equal(out.Bytes(), want[i%2]) {
				t.Error("a document differs when others are written at once")
			}
		})
	}
	all.Wait()
}

// A file that is not as expected is an error and never a panic: each cut of a
// drawn file, and each with a byte changed in its table.
func TestFinishRefusesWhatItDoesNotKnow(t *testing.T) {
	raw := "%PDF-1.3\n1 0 obj\n<</Type /Pages\n/Kids [3 0 R ]\n/Count 1\n/MediaBox [0 0 10.00 10.00]\n>>\nendobj\n" +
		"2 0 obj\n<</Length 3>>\nstream\nabc\nendstream\nendobj\n" +
		"3 0 obj\n<</Type /Page\n/Parent 1 0 R\n/Contents 4 0 R>>\nendobj\n4 0 obj\n<</Length 0>>\nstream\n\nendstream\nendobj\n" +
		"5 0 obj\n<<\n/CreationDate (D:20270114083000)\n>>\nendobj\n6 0 obj\n<<\n/Type /Catalog\n>>\nendobj\n"
	table := len(raw)
	raw += "xref\n0 7\n0000000000 65535 f \n"
	for n := range 6 {
		at := strings.Index(raw, string(rune('1'+n))+" 0 obj")
		raw += strings.Repeat("0", 10-len(itoa(at))) + itoa(at) + " 00000 n \n"
	}
	raw += "trailer\n<<\n/Size 7\n/Root 6 0 R\n/Info 5 0 R\n>>\nstartxref\n" + itoa(table) + "\n%%EOF\n"

	contents := [][]byte{[]byte("packed")}
	var out bytes.Buffer
	if err := finish(&out, []byte(raw), contents, asNamed, catalog(NoFlip), "[0 0 1 2]"); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"/MediaBox [0 0 1 2]\n/Parent", "(D:20270114083000Z)", "/PrintScaling /None", "/Count 1\n/MediaBox [0 0 1 2]", "4 0 obj\n<</Filter /FlateDecode /Length 6>>\nstream\npacked\nendstream\nendobj"} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %q in\n%s", want, out.String())
		}
	}
	for _, wrong := range [][][]byte{nil, {nil, nil}} {
		if err := finish(io.Discard, []byte(raw), wrong, asNamed, catalog(NoFlip), "[0 0 1 2]"); err == nil {
			t.Errorf("%d contents for a page: no error", len(wrong))
		}
	}
	for i := range raw {
		if err := finish(io.Discard, []byte(raw[:i]), contents, asNamed, catalog(NoFlip), "[0 0 1 2]"); err == nil && i < len(raw)-1 {
			t.Errorf("cut at %d: no error", i)
		}
	}
	for i := table; i < len(raw); i++ {
		changed := []byte(raw)
		changed[i] = '7'
		_ = finish(io.Discard, changed, contents, asNamed, catalog(NoFlip), "[0 0 1 2]") // must not panic
	}
}

func itoa(n int) string { return decimal(float64(n), 0) }

// drawnFile is a file as the library writes it, of these objects.
func drawnFile(root, info int, bodies ...string) string {
	raw, table := "%PDF-1.3\n", ""
	for i, body := range bodies {
		table += fmt.Sprintf("%010d 00000 n \n", len(raw))
		raw += fmt.Sprintf("%d 0 obj\n%s\nendobj\n", i+1, body)
	}
	return raw + fmt.Sprintf("xref\n0 %d\n0000000000 65535 f \n%strailer\n<<\n/Size %d\n/Root %d 0 R\n/Info %d 0 R\n>>\nstartxref\n%d\n%%%%EOF\n",
		len(bodies)+1, table, len(bodies)+1, root, info, len(raw))
}

// Pages whose contents are not the object behind them are refused, as are places
// beyond the objects.
func TestFinishRefusesOtherOrders(t *testing.T) {
	const list, uses, catalogue, about = "<</Type /Pages\n/MediaBox [0 0 10.00 10.00]\n>>", "<<>>", "<<\n/Type /Catalog\n>>", "<<\n/CreationDate (D:20270114083000)\n>>"
	page := func(contents int) string {
		return fmt.Sprintf("<</Type /Page\n/Parent 1 0 R\n/Contents %d 0 R>>", contents)
	}
	good := []string{list, uses, page(4), "<<>>", about, catalogue}
	for _, c := range []struct {
		name   string
		raw    string
		pages  int
		accept bool
	}{
		{"as the library writes it", drawnFile(6, 5, good...), 1, true},
		{"two pages", drawnFile(8, 7, list, uses, page(4), "<<>>", page(6), "<<>>", about, catalogue), 2, true},
		{"contents further on", drawnFile(6, 5, list, uses, page(5), "<<>>", about, catalogue), 1, false},
		{"contents before", drawnFile(6, 5, list, uses, page(2), "<<>>", about, catalogue), 1, false},
		{"a page at the end", drawnFile(3, 4, list, uses, catalogue, about, page(6)), 1, false},
		{"a page more", drawnFile(6, 5, good...), 0, false},
		{"a page less", drawnFile(6, 5, good...), 2, false},
		{"an object at the table", strings.Replace(drawnFile(6, 5, good...), "0000000009 00000 n", fmt.Sprintf("%010d 00000 n", strings.Index(drawnFile(6, 5, good...), "xref\n")), 1), 1, false},
		{"no root", strings.Replace(drawnFile(6, 5, good...), "/Root", "/Hoot", 1), 1, false},
		{"no information", strings.Replace(drawnFile(6, 5, good...), "/Info", "/Into", 1), 1, false},
		{"a table beyond the end", strings.Replace(drawnFile(6, 5, good...), "startxref\n", "startxref\n9", 1), 1, false},
	} {
		contents := make([][]byte, c.pages)
		var out bytes.Buffer
		if err := finish(&out, []byte(c.raw), contents, asNamed, catalog(NoFlip), "[0 0 1 2]"); (err == nil) != c.accept || err != nil && out.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", c.name, err, out.Len())
		}
	}
}
