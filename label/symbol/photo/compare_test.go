package photo_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"pipstake/label/symbol/photo"
	"pipstake/layout/proof/outside"
)

// picture is a scene as a file.
type picture struct {
	light light
	there []truth
	data  []byte
	file  string
}

// shoot photographs scenes under each light, with as many labels on them as
// counts say.
func shoot(tb testing.TB, counts []int) []picture {
	tb.Helper()
	dir := tb.TempDir()
	var all []picture
	for i, l := range lights {
		for k, n := range counts {
			rnd := rand.New(rand.NewPCG(uint64(i), uint64(k)))
			img, there := scene(cuts(tb, rnd, n, (i+k)%2 == 0), l, rnd)
			p := picture{l, there, compressed(tb, img, l.quality), filepath.Join(dir, strings.ReplaceAll(l.name, " ", "-")+string(rune('a'+k))+".jpg")}
			if err := os.WriteFile(p.file, p.data, 0o600); err != nil {
				tb.Fatal(err)
			}
			all = append(all, p)
		}
	}
	return all
}

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
			tb.Errorf("%s: read %q at %.0f, where it is not", p.light.name, c.Text, c.Centre())
		}
	}
	for _, c := range unread {
		if !p.near(c, "") {
			tb.Errorf("%s: saw a code at %.0f, where none is", p.light.name, c.Centre())
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

// otherReaders are the programs of Debian that codes are read with for
// comparison, with the arguments that restrict them to the kinds in use.
var otherReaders = []struct {
	name string
	args []string
}{
	{"ZXingReader", []string{"-1", "-format", "QRCode,DataMatrix"}},
	{"zbarimg", []string{"-q", "--raw", "-Sdisable", "-Sqrcode.enable"}},
}

// readBy returns the texts that another reader finds; false where it is not
// installed.
func readBy(tb testing.TB, name string, args []string, file string) ([]string, bool) {
	tb.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("CI") == "true" {
			tb.Fatal(err)
		}
		return nil, false
	}
	out, err := outside.Command(name, append(args, file)...).Output() // an error where there is no code
	if _, ran := err.(*exec.ExitError); err != nil && !ran {
		tb.Fatal(err)
	}
	var texts []string
	for line := range strings.Lines(string(out)) {
		line = strings.TrimSuffix(line, "\n")
		if first, last := strings.IndexByte(line, '"'), strings.LastIndexByte(line, '"'); first < last {
			line = line[first+1 : last] // ZXingReader quotes the text
		}
		texts = append(texts, line)
	}
	return texts, true
}

// On pictures of real pages, more codes are found than by zxing-cpp and by
// zbar; none is read that is not there, and none is seen where none is.
func TestReadsMoreThanOthers(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	pictures := shoot(t, []int{4})
	there, ours := 0, 0
	others := make([]int, len(otherReaders))
	for _, p := range pictures {
		read, unread := photo.Read(opened(t, p.data))
		texts := p.checked(t, read, unread)
		there, ours = there+len(p.there), ours+p.among(texts)
		for i, r := range otherReaders {
			if texts, ok := readBy(t, r.name, r.args, p.file); ok {
				others[i] += p.among(texts)
			}
		}
	}
	t.Logf("of %d codes: ours %d, ZXingReader %d, zbarimg %d", there, ours, others[0], others[1])
	if ours < max(others[0], others[1]) {
		t.Errorf("%d codes read, another reader %d", ours, max(others[0], others[1]))
	}
	if ours*100 < there*85 {
		t.Errorf("only %d of %d codes read", ours, there)
	}
}

// BenchmarkPhotographs reports the share of codes found under each light, and
// by the other readers where they are installed.
func BenchmarkPhotographs(b *testing.B) {
	pictures := shoot(b, []int{1, 2, 4, 8, 12, 24})
	for _, l := range lights {
		b.Run(strings.ReplaceAll(l.name, " ", "-"), func(b *testing.B) {
			there, ours, seen := 0, 0, 0
			others := make([]int, len(otherReaders))
			for range b.N {
				there, ours, seen = 0, 0, 0
				clear(others)
				for _, p := range pictures {
					if p.light.name != l.name {
						continue
					}
					img, err := jpeg.Decode(bytes.NewReader(p.data))
					if err != nil {
						b.Fatal(err)
					}
					read, unread := photo.Read(img.(*image.Gray))
					texts := p.checked(b, read, unread)
					there, ours, seen = there+len(p.there), ours+p.among(texts), seen+len(unread)
				}
			}
			b.StopTimer()
			b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N)/6, "ms/picture")
			for i, r := range otherReaders {
				for _, p := range pictures {
					if p.light.name == l.name {
						texts, _ := readBy(b, r.name, r.args, p.file)
						others[i] += p.among(texts)
					}
				}
				b.ReportMetric(100*float64(others[i])/float64(there), "%"+r.name)
			}
			b.ReportMetric(100*float64(ours)/float64(there), "%read")
			b.ReportMetric(100*float64(seen)/float64(there), "%seen")
			b.ReportMetric(0, "ns/op")
		})
	}
}
