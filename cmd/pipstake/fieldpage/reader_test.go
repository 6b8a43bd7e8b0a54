package fieldpage

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/imports/wasi_snapshot_preview1"

	"pipstake/label/symbol"
	"pipstake/label/symbol/photo"
	"pipstake/layout/proof/outside"
)

const (
	keptReader   = "reader/reader.wasm.gz"
	mostReader   = 1 << 20
	updateReader = "UPDATE_READER=1 go test ./cmd/pipstake/fieldpage -run Reader"
)

// goForReader runs the go command for the reader's kind of machine.
func goForReader(t *testing.T, args ...string) string {
	t.Helper()
	c := outside.Command("go", args...)
	c.Env = append(os.Environ(), "GOOS=wasip1", "GOARCH=wasm", "CGO_ENABLED=0", "GOFLAGS=", "GOWORK=off")
	var problems bytes.Buffer
	c.Stderr = &problems
	out, err := c.Output()
	if err != nil {
		t.Fatalf("go %s: %v\n%s", strings.Join(args, " "), err, &problems)
	}
	return string(out)
}

// readerOrigin names the Go version and the sources that the reader is built from.
func readerOrigin(t *testing.T) string {
	t.Helper()
	sum := sha256.New()
	files := 0
	list := goForReader(t, "list", "-deps", "-f", `{{if not .Standard}}{{$p := .}}{{range .GoFiles}}{{$p.ImportPath}}{{"\t"}}{{$p.Dir}}{{"\t"}}{{.}}{{"\n"}}{{end}}{{end}}`, "./reader")
	for line := range strings.Lines(list) {
		part := strings.Split(strings.TrimSpace(line), "\t")
		if len(part) != 3 {
			continue
		}
		text, err := os.ReadFile(filepath.Join(part[1], part[2]))
		if err != nil {
			t.Fatal(err)
		}
		text = bytes.ReplaceAll(text, []byte("\r\n"), []byte("\n"))
		fmt.Fprintf(sum, "%s/%s %d\n%s", part[0], part[2], len(text), text)
		files++
	}
	if files < 10 {
		t.Fatalf("only %d files of the reader are known", files)
	}
	return fmt.Sprintf("built by %s from sources sha256:%x", runtime.Version(), sum.Sum(nil))
}

// builtReader builds the reader anew, packed.
func builtReader(t *testing.T, origin string) []byte {
	t.Helper()
	out := filepath.Join(t.TempDir(), "reader.wasm")
	goForReader(t, "build", "-buildmode=c-shared", "-trimpath", "-buildvcs=false", "-ldflags", "-s -w", "-o", out, "./reader")
	module, err := os.ReadFile(out)
	if err != nil {
		t.Fatal(err)
	}
	var packed bytes.Buffer
	z, err := gzip.NewWriterLevel(&packed, gzip.BestCompression)
	if err != nil {
		t.Fatal(err)
	}
	z.Comment = origin
	_, err = z.Write(module)
	if err := errors.Join(err, z.Close()); err != nil {
		t.Fatal(err)
	}
	return packed.Bytes()
}

// The reader that the page carries is built from the sources that stand here:
// byte for byte by the Go version that built it, and by their sum with any other.
func TestReaderIsOfTheseSources(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	origin := readerOrigin(t)
	if os.Getenv("UPDATE_READER") != "" {
		if err := os.WriteFile(keptReader, builtReader(t, origin), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	kept, err := os.ReadFile(keptReader)
	if err != nil {
		t.Fatal(err)
	}
	if len(kept) > mostReader {
		t.Errorf("the reader has %d bytes, %d is the most", len(kept), mostReader)
	}
	z, err := gzip.NewReader(bytes.NewReader(kept))
	if err != nil {
		t.Fatal(err)
	}
	_, sources, _ := strings.Cut(origin, " from ")
	if !strings.HasSuffix(z.Comment, " from "+sources) {
		t.Fatalf("the sources of the reader have changed: %s builds it anew", updateReader)
	}
	if z.Comment != origin {
		t.Skipf("the reader's bytes are not compared: it was %s, and this is %s", z.Comment, runtime.Version())
	}
	if !bytes.Equal(kept, builtReader(t, origin)) {
		t.Errorf("the reader is not what its sources give: %s builds it anew", updateReader)
	}
}

// hosted is the reader in a host that is not a browser.
type hosted struct {
	t   *testing.T
	mod api.Module
}

func hostReader(t *testing.T) hosted {
	t.Helper()
	packed, err := os.ReadFile(keptReader)
	if err != nil {
		t.Fatal(err)
	}
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	module, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	host := wazero.NewRuntime(t.Context())
	t.Cleanup(func() { host.Close(t.Context()) })
	if _, err := wasi_snapshot_preview1.Instantiate(t.Context(), host); err != nil {
		t.Fatal(err)
	}
	mod, err := host.InstantiateWithConfig(t.Context(), module, wazero.NewModuleConfig().WithStartFunctions("_initialize"))
	if err != nil {
		t.Fatal(err)
	}
	return hosted{t, mod}
}

func (h hosted) call(name string, args ...uint64) uint64 {
	h.t.Helper()
	out, err := h.mod.ExportedFunction(name).Call(h.t.Context(), args...)
	if err != nil {
		h.t.Fatalf("%s: %v", name, err)
	}
	return out[0]
}

// read has a picture read, and takes the answer apart.
func (h hosted) read(img *image.Gray) []photo.Code {
	h.t.Helper()
	at := h.call("room", uint64(img.Rect.Dx()), uint64(img.Rect.Dy()))
	if !h.mod.Memory().Write(uint32(at), img.Pix) {
		h.t.Fatal("the picture does not fit")
	}
	n := h.call("read", 1)
	bytes, ok := h.mod.Memory().Read(uint32(h.call("answer")), uint32(n))
	if !ok {
		h.t.Fatal("the answer is not there")
	}
	number := func() (n uint32) {
		n, bytes = binary.LittleEndian.Uint32(bytes), bytes[4:]
		return n
	}
	var codes []photo.Code
	for len(bytes) > 0 {
		var c photo.Code
		for i := range c.Corners {
			c.Corners[i] = photo.Point{X: float64(math.Float32frombits(number())), Y: float64(math.Float32frombits(number()))}
		}
		n := number()
		c.Text, bytes = string(bytes[:n]), bytes[n:]
		codes = append(codes, c)
	}
	return codes
}

// bench is a picture of codes that lie on a grey ground, each turned.
func bench(t *testing.T, payloads ...string) *image.Gray {
	t.Helper()
	const size, pixels = 320, 5 // of the room of a code, and of a module
	img := image.NewGray(image.Rect(0, 0, size*len(payloads), size))
	for i := range img.Pix {
		img.Pix[i] = 190
	}
	for k, payload := range payloads {
		kind := []symbol.Kind{symbol.QR, symbol.DataMatrix}[k%2]
		level := []byte{'M', 0}[k%2]
		code, err := symbol.Encode(kind, level, payload, pixels, 300)
		if err != nil {
			t.Fatal(err)
		}
		sin, cos := math.Sincos(0.3 + float64(k))
		for y := range size {
			for x := range size {
				dx, dy := float64(x-size/2), float64(y-size/2)
				mx := int(math.Floor((dx*cos+dy*sin)/pixels + float64(code.Size)/2))
				my := int(math.Floor((dy*cos-dx*sin)/pixels + float64(code.Size)/2))
				if mx < -4 || my < -4 || mx >= code.Size+4 || my >= code.Size+4 {
					continue
				}
				v := uint8(240)
				if mx >= 0 && my >= 0 && mx < code.Size && my < code.Size && code.Dark(mx, my) {
					v = 30
				}
				img.Pix[y*img.Stride+k*size+x] = v
			}
		}
	}
	return img
}

// The reader that the page carries reads what the program reads, one picture
// after the other.
func TestReaderReadsAsTheProgramDoes(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	h := hostReader(t)
	pictures := [][]string{
		{"2026X012-B2.3/1", "2026X012-B2.3/2"},
		{"2025X001-A1.V", "2025X001-B1.9/1", "2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER"},
		{},
		{"2026X012.H"},
	}
	for _, payloads := range pictures {
		img := bench(t, append(payloads, "2026X012-B2.3")...)
		want, _ := photo.Read(img)
		if len(want) != len(payloads)+1 {
			t.Errorf("%d codes are on the picture, and the program reads %d", len(payloads)+1, len(want))
		}
		got := slices.DeleteFunc(h.read(img), func(c photo.Code) bool { return c.Text == "" })
		if !slices.EqualFunc(got, want, alike) {
			t.Errorf("the page's reader reads %v, the program %v", got, want)
		}
	}
}

// alike reports whether codes have one text and lie at one place: processors
// round differently.
func alike(a, b photo.Code) bool {
	for i := range a.Corners {
		if math.Hypot(a.Corners[i].X-b.Corners[i].X, a.Corners[i].Y-b.Corners[i].Y) > 0.1 {
			return false
		}
	}
	return a.Text == b.Text
}
