package photo

import (
	"image"
	"testing"
)

// The decoder of gray JPEG files gives a part of a larger picture, so its rows
// are longer than the picture is wide.
func TestPartOfALargerPicture(t *testing.T) {
	whole := image.NewGray(image.Rect(0, 0, 104, 104))
	for i := range whole.Pix {
		whole.Pix[i] = 255
	}
	part := whole.SubImage(image.Rect(0, 0, 100, 101)).(*image.Gray)
	if read, unread := Read(part); len(read)+len(unread) > 0 {
		t.Errorf("a blank picture: %d codes read, %d seen", len(read), len(unread))
	}
}
