// Package proof looks at finished pages as a printer and a telephone do: it
// rasterises a PDF with PDFium and reads the codes on the raster with a decoder
// that shares no code with the encoder. Only tests import it.
package proof

import (
	"errors"
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"github.com/klippa-app/go-pdfium"
	"github.com/klippa-app/go-pdfium/enums"
	"github.com/klippa-app/go-pdfium/references"
	"github.com/klippa-app/go-pdfium/requests"
	"github.com/klippa-app/go-pdfium/structs"
	"github.com/klippa-app/go-pdfium/webassembly"
	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
	"github.com/tetratelabs/wazero/experimental"

	"pipstake/label"
)

// start compiles PDFium, once for all tests of a program, and once for all
// programs where the user has a folder for caches: it takes as long as a few
// pages do.
var start = sync.OnceValues(func() (pdfium.Pdfium, error) {
	runtime := wazero.NewRuntimeConfig().WithCoreFeatures(api.CoreFeaturesV2 | experimental.CoreFeaturesExceptionHandling)
	if dir, err := os.UserCacheDir(); err == nil {
		if cache, err := wazero.NewCompilationCacheWithDir(filepath.Join(dir, "pipstake-tests")); err == nil {
			runtime = runtime.WithCompilationCache(cache)
		}
	}
	pool, err := webassembly.Init(webassembly.Config{MinIdle: 1, MaxIdle: 1, MaxTotal: 1, RuntimeConfig: runtime})
	if err != nil {
		return nil, fmt.Errorf("starting PDFium: %w", err)
	}
	return pool.GetInstance(time.Minute)
})

// Size is the size of a page in millimetres.
type Size struct{ W, H float64 }

// Text is a stretch of text on a page.
type Text struct {
	String string
	Box    label.Rect // in millimetres from the upper left corner of the page
}

// Document is an open PDF. It may be used from several goroutines.
type Document struct {
	engine pdfium.Pdfium
	ref    references.FPDF_DOCUMENT
	pages  []Size
}

// Open reads a finished PDF. The error is PDFium's where it cannot.
func Open(pdf []byte) (*Document, error) {
	engine, err := start()
	if err != nil {
		return nil, err
	}
	file := slices.Clone(pdf)
	opened, err := engine.OpenDocument(&requests.OpenDocument{File: &file})
	if err != nil {
		return nil, fmt.Errorf("opening the PDF: %w", err)
	}
	d := &Document{engine: engine, ref: opened.Document}
	count, err := engine.FPDF_GetPageCount(&requests.FPDF_GetPageCount{Document: d.ref})
	if err != nil {
		return nil, errors.Join(err, d.Close())
	}
	for i := range count.PageCount {
		box, err := engine.FPDFPage_GetMediaBox(&requests.FPDFPage_GetMediaBox{Page: d.page(i + 1)})
		if err != nil {
			return nil, errors.Join(err, d.Close())
		}
		d.pages = append(d.pages, Size{toMillimetres(box.Right - box.Left), toMillimetres(box.Top - box.Bottom)})
	}
	return d, nil
}

// Close frees the document's memory.
func (d *Document) Close() error {
	_, err := d.engine.FPDF_CloseDocument(&requests.FPDF_CloseDocument{Document: d.ref})
	return err
}

// Pages are the sizes of all pages, as their media boxes say.
func (d *Document) Pages() []Size { return d.pages }

func (d *Document) page(n int) requests.Page {
	return requests.Page{ByIndex: &requests.PageByIndex{Document: d.ref, Index: n - 1}}
}

func toMillimetres(points float32) float64 { return float64(points) * 25.4 / 72 }

// Render rasterises page n, from 1, at dpi pixels in an inch, counted from the
// page's upper left corner: a pixel is a printer's dot. Black is 0.
func (d *Document) Render(n, dpi int) (*image.Gray, error) {
	if n < 1 || n > len(d.pages) {
		return nil, fmt.Errorf("there is no page %d among %d", n, len(d.pages))
	}
	size := d.pages[n-1]
	return d.render(n, dpi, image.Rect(0, 0, pixels(size.W, dpi), pixels(size.H, dpi)), 0, 0)
}

// render rasterises a part of page n, given in dots. The whole page is first
// moved right and down by parts of a dot.
func (d *Document) render(n, dpi int, part image.Rectangle, right, down float64) (*image.Gray, error) {
	made, err := d.engine.FPDFBitmap_CreateEx(&requests.FPDFBitmap_CreateEx{Width: part.Dx(), Height: part.Dy(), Format: enums.FPDF_BITMAP_FORMAT_GRAY,
		Pointer: uint64(0)}) // PDFium takes the memory itself
	if err != nil {
		return nil, fmt.Errorf("page %d at %d dpi: %w", n, dpi, err)
	}
	scale := float32(dpi) / 72
	img, err := d.paint(made.Bitmap, d.page(n), image.Rect(0, 0, part.Dx(), part.Dy()), structs.FPDF_FS_MATRIX{
		A: scale, D: scale, E: float32(right - float64(part.Min.X)), F: float32(down - float64(part.Min.Y))})
	_, closing := d.engine.FPDFBitmap_Destroy(&requests.FPDFBitmap_Destroy{Bitmap: made.Bitmap})
	if err := errors.Join(err, closing); err != nil {
		return nil, fmt.Errorf("page %d at %d dpi: %w", n, dpi, err)
	}
	return img, nil
}

// paint draws a page, whose points the matrix takes to pixels, and copies it
// out of PDFium.
func (d *Document) paint(bitmap references.FPDF_BITMAP, page requests.Page, bounds image.Rectangle, matrix structs.FPDF_FS_MATRIX) (*image.Gray, error) {
	w, h := bounds.Dx(), bounds.Dy()
	if _, err := d.engine.FPDFBitmap_FillRect(&requests.FPDFBitmap_FillRect{Bitmap: bitmap, Width: w, Height: h, Color: 0xFFFFFFFF}); err != nil {
		return nil, err
	}
	if _, err := d.engine.FPDF_RenderPageBitmapWithMatrix(&requests.FPDF_RenderPageBitmapWithMatrix{
		Bitmap: bitmap, Page: page, Matrix: matrix,
		Clipping: structs.FPDF_FS_RECTF{Right: float32(w), Bottom: float32(h)},
	}); err != nil {
		return nil, err
	}
	stride, err := d.engine.FPDFBitmap_GetStride(&requests.FPDFBitmap_GetStride{Bitmap: bitmap})
	if err != nil {
		return nil, err
	}
	buffer, err := d.engine.FPDFBitmap_GetBuffer(&requests.FPDFBitmap_GetBuffer{Bitmap: bitmap})
	if err != nil {
		return nil, err
	}
	return &image.Gray{Pix: slices.Clone(buffer.Buffer), Stride: stride.Stride, Rect: bounds}, nil
}

// Texts are the stretches of text on page n, from 1.
func (d *Document) Texts(n int) ([]Text, error) {
	if n < 1 || n > len(d.pages) {
		return nil, fmt.Errorf("there is no page %d among %d", n, len(d.pages))
	}
	found, err := d.engine.GetPageTextStructured(&requests.GetPageTextStructured{Page: d.page(n), Mode: requests.GetPageTextStructuredModeRects})
	if err != nil {
		return nil, fmt.Errorf("text of page %d: %w", n, err)
	}
	var texts []Text
	for _, r := range found.Rects {
		at := r.PointPosition // from the lower left corner
		const mm = 25.4 / 72
		texts = append(texts, Text{r.Text, label.Rect{X: at.Left * mm, Y: d.pages[n-1].H - at.Top*mm,
			W: (at.Right - at.Left) * mm, H: (at.Top - at.Bottom) * mm}})
	}
	return texts, nil
}

// pixels is a length in millimetres in whole pixels, rounded.
func pixels(mm float64, dpi int) int { return int(math.Round(mm * float64(dpi) / 25.4)) }

// Region is a place on a page, in millimetres, on a raster of dpi pixels in an
// inch.
func Region(r label.Rect, dpi int) image.Rectangle {
	return image.Rect(pixels(r.X, dpi), pixels(r.Y, dpi), pixels(r.Right(), dpi), pixels(r.Bottom(), dpi))
}

// Ink is the least rectangle that holds every dark pixel of region; it is empty
// where there is none. A pixel is dark below half of white.
func Ink(img *image.Gray, region image.Rectangle) image.Rectangle {
	var ink image.Rectangle
	region = region.Intersect(img.Rect)
	for y := region.Min.Y; y < region.Max.Y; y++ {
		row := img.Pix[img.PixOffset(region.Min.X, y):][:region.Dx()]
		first := slices.IndexFunc(row, isDark)
		if first < 0 {
			continue
		}
		last := len(row) - 1
		for !isDark(row[last]) {
			last--
		}
		ink = ink.Union(image.Rect(region.Min.X+first, y, region.Min.X+last+1, y+1))
	}
	return ink
}

func isDark(level byte) bool { return level < 128 }
