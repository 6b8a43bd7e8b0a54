package proof

import (
	"fmt"
	"image"
	"os"
	"path/filepath"
	"strings"

	"pipstake/layout/proof/outside"
)

// Alphabet is what an identifier on a label is made of, for ReadLetters.
const Alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ.-"

// ReadLetters reads pictures of a few lines of text with tesseract, which is
// told to look for characters of the alphabet only; "" for any. It returns the
// text of each picture, its white space as single spaces. The pictures are
// written to dir.
func ReadLetters(dir string, alphabet string, imgs []*image.Gray) ([]string, error) {
	var list strings.Builder
	for i, img := range imgs {
		file := filepath.Join(dir, fmt.Sprintf("letters-%04d.pgm", i))
		if err := outside.WriteGray(file, img); err != nil {
			return nil, err
		}
		fmt.Fprintln(&list, file)
	}
	names := filepath.Join(dir, "letters.txt")
	if err := os.WriteFile(names, []byte(list.String()), 0o600); err != nil {
		return nil, err
	}
	args := []string{names, "stdout", "--psm", "6", "--dpi", "300", "-c", "page_separator=\f"}
	if alphabet != "" {
		args = append(args, "-c", "tessedit_char_whitelist="+alphabet)
	}
	cmd := outside.Command("tesseract", args...)
	cmd.Env = append(cmd.Environ(), "OMP_THREAD_LIMIT=1")
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("tesseract: %w", err)
	}
	pages := strings.Split(string(out), "\f")
	if len(pages) < len(imgs) {
		return nil, fmt.Errorf("tesseract read %d pictures of %d", len(pages), len(imgs))
	}
	texts := make([]string, len(imgs))
	for i := range imgs {
		texts[i] = strings.Join(strings.Fields(pages[i]), " ")
	}
	return texts, nil
}
