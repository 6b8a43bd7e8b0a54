package main

import (
	"image"
	"image/color"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pipstake/layout/proof"
)

// halfBlocks draws what half blocks on a screen show, as ink on paper: eight pixels
// a module.
func halfBlocks(lines []string) *image.Gray {
	const module = 8
	img := image.NewGray(image.Rect(0, 0, 100*module, 2*len(lines)*module))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for row, line := range lines {
		for x, c := range []rune(line) {
			for half, inked := range []string{"▀█", "▄█"} {
				if !strings.ContainsRune(inked, c) {
					continue
				}
				for i := range module * module {
					img.SetGray(x*module+i%module, (2*row+half)*module+i/module, color.Gray{})
				}
			}
		}
	}
	return img
}

// On a terminal the address of a served page stands there as a code too, black on
// white, which another decoder reads; Ctrl-C ends it.
func TestServedAddressIsACode(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := t.TempDir()
	demoIn(t, dir)
	term := newTerminal(t, filepath.Join(dir, "orchard"), "bash", "--norc", "--noprofile", "-i")
	term.keys("PS1='> '; clear; pipstake page --serve --light --at 127.0.0.1:0", "key:Enter")
	term.until("the address", func(s string) bool {
		return strings.Contains(s, "http://127.0.0.1:") && strings.Contains(s, "\nCtrl-C ends it")
	})
	var address string
	var code []string
	for line := range strings.SplitSeq(term.screen(), "\n") {
		if strings.HasPrefix(line, "http://") {
			address = strings.TrimSpace(line)
		} else if strings.ContainsAny(line, "▀▄█") {
			code = append(code, line)
		}
	}
	img := halfBlocks(append([]string{"", ""}, append(code, "", "")...))
	if got := proof.Decode(img, img.Bounds()); len(got) != 1 || got[0] != strings.ToUpper(address) || len(address) < 40 {
		t.Errorf("the code of %q reads %q:\n%s", address, got, strings.Join(code, "\n"))
	}
	if colours := term.run("capture-pane", "-p", "-e"); !strings.Contains(colours, "30m") || !strings.Contains(colours, "107m") {
		t.Errorf("the code is not black on white: %q", colours)
	}
	term.keys("key:C-c")
	term.until("the end", func(s string) bool {
		return strings.HasSuffix(strings.TrimRight(s, " "), "^C\nended\nnothing was recorded\n>")
	})
}

// What cannot serve is refused with what would.
func TestServeRefuses(t *testing.T) {
	dir := completionSeason(t)
	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--serve", "--out", "page.html"}, "pipstake: page: --serve hands the page to phones and writes no file\nhint: leave --out and --force out\n"},
		{[]string{"--at", "127.0.0.1"}, "pipstake: page: --at goes with --serve\n"},
		{[]string{"--serve", "--at", "orchard"}, "pipstake: --at \"orchard\" is no address\nhint: give one of "},
		{[]string{"--serve", "--at", "192.0.2.1"}, "pipstake: --at \"192.0.2.1\" is no address of this computer in a network of one's own\nhint: give one of these: "},
		{[]string{"--serve", "--at", "0.0.0.0"}, "is no address of this computer"},
		{[]string{"--serve", "--at", "127.0.0.1:80"}, "the port is no number from 1024 to 65535\n"},
		{[]string{"--serve", "--at", "127.0.0.1:http"}, "the port is no number from 1024 to 65535\n"},
		{[]string{"--serve", "--at", "::"}, "is no address of this computer"},
	} {
		got, said, told := runIn(t, dir, append([]string{"page"}, c.args...)...)
		if got != wrongUsage || said != "" || !strings.Contains(told, c.want) {
			t.Errorf("%q: status %d, %s%s", c.args, got, said, told)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "page.html")); err == nil {
		t.Error("a page was written")
	}
}
