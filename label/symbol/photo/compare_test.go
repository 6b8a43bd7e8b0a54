package photo_test

import (
	"image"
	"math"
	"strings"
	"testing"
	"time"

	"pipstake/label/symbol/photo"
)

// among counts how many of the codes that are there were read.
func (p picture) among(texts []string) int {
	left := map[string]int{}
	for _, t := range p.there {
		left[t.text]++
	}
	n := 0
	for _, text := range texts {
		if left[text] > 0 {
			left[text]--
			n++
		}
	}
	return n
}

// near reports whether a code lies where one with the text is; "" for any.
func (p picture) near(c photo.Code, text string) bool {
	for _, t := range p.there {
		if (text == "" || t.text == text) && math.Hypot(t.at.X-c.Centre().X, t.at.Y-c.Centre().Y) < 5*p.light.pixels {
			return true
		}
	}
	return false
}

// checked returns the texts that were read. None of them, and no code that was
// only seen, may lie where it is not.
func (p picture) checked(tb testing.TB, read, unread []photo.Code) (texts []string) {
	tb.Helper()
	for _, c := range read {
		texts = append(texts, c.Text)
		if !p.near(c, c.Text) {
			tb.Errorf("%s: read %q at %.0f, where it is not", p.file, c.Text, c.Centre())
		}
	}
	for _, c := range unread {
		if !p.near(c, "") {
			tb.Errorf("%s: saw a code at %.0f, where none is", p.file, c.Centre())
		}
	}
	return texts
}

// opened decodes a photograph.
func opened(tb testing.TB, data []byte) *image.Gray {
	tb.Helper()
	img, err := photo.Open(data)
	if err != nil {
		tb.Fatal(err)
	}
	return img
}

// On pictures of real pages, more codes are found than by zxing-cpp and by
// zbar; none is read that is not there, and none is seen where none is.
func TestReadsMoreThanOthers(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	pictures := shoot(t, t.TempDir(), lights, []int{2})
	there, ours := 0, 0
	readers := otherReaders[:2] // the others take long, and read less or are seldom there
	others := make([]int, len(readers))
	for _, p := range pictures {
		read, unread := photo.Read(opened(t, p.data))
		texts := p.checked(t, read, unread)
		there, ours = there+len(p.there), ours+p.among(texts)
		for i, r := range readers {
			if texts, _, ok := readBy(t, r, p.file); ok {
				others[i] += p.among(texts)
			}
		}
	}
	best := 0
	for i, r := range readers {
		t.Logf("of %d codes: ours %d, %s %d", there, ours, r.name, others[i])
		best = max(best, others[i])
	}
	if ours < best {
		t.Errorf("%d codes read, another reader %d", ours, best)
	}
	if ours*100 < there*85 {
		t.Errorf("only %d of %d codes read", ours, there)
	}
}

// benchCounts is how many labels are on the pictures of the benchmark.
var benchCounts = []int{2, 4, 8}

// BenchmarkPhotographs reports for each kind of picture the share of codes read
// and the processor time of a picture, from the file and from its pixels; so
// for other readers where they are installed, from the file.
func BenchmarkPhotographs(b *testing.B) {
	for _, l := range lights {
		b.Run(strings.ReplaceAll(l.name, " ", "-"), func(b *testing.B) {
			pictures := shoot(b, b.TempDir(), []light{l}, benchCounts)
			there, ours, seen := 0, 0, 0
			var decoding, reading time.Duration
			b.ResetTimer()
			for range b.N {
				there, ours, seen = 0, 0, 0
				for _, p := range pictures {
					begin := processorTime()
					img := opened(b, p.data)
					between := processorTime()
					read, unread := photo.Read(img)
					reading += processorTime() - between
					decoding += between - begin
					texts := p.checked(b, read, unread)
					there, ours, seen = there+len(p.there), ours+p.among(texts), seen+len(unread)
				}
			}
			b.StopTimer()
			share := func(n int) float64 { return 100 * float64(n) / float64(there) }
			each := func(d time.Duration, n int) float64 { return d.Seconds() * 1000 / float64(n) }
			b.ReportMetric(each(decoding, b.N*len(pictures)), "ms/decode")
			b.ReportMetric(each(reading, b.N*len(pictures)), "ms/read")
			b.ReportMetric(share(ours), "%read")
			b.ReportMetric(share(seen), "%seen")
			b.ReportMetric(0, "ns/op")
			for _, r := range otherReaders {
				n := 0
				var took time.Duration
				for _, p := range pictures {
					texts, t, ok := readBy(b, r, p.file)
					if !ok {
						break
					}
					n, took = n+p.among(texts), took+t
				}
				if took > 0 {
					b.ReportMetric(share(n), "%"+r.name)
					b.ReportMetric(each(took, len(pictures)), "ms/"+r.name)
				}
			}
		})
	}
}
