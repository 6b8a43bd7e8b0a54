package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"
	"time"
	"unicode/utf16"

	"pipstake/layout/proof/outside"
)

// inUTF16 is a text as > of PowerShell 5 writes it: UTF-16 with a byte order
// mark, in one byte order or the other (RFC 2781, section 3.2).
func inUTF16(order binary.AppendByteOrder, text string) []byte {
	data := order.AppendUint16(nil, 0xFEFF)
	for _, unit := range utf16.Encode([]rune(text)) {
		data = order.AppendUint16(data, unit)
	}
	return data
}

func TestPlainText(t *testing.T) {
	const text = "2026X001-A\r\nBłota Struga 𝄞\r\n"
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"UTF-8", []byte(text), text},
		{"UTF-8 with a byte order mark", []byte("\ufeff" + text), text},
		{"UTF-16LE", inUTF16(binary.LittleEndian, text), text},
		{"UTF-16BE", inUTF16(binary.BigEndian, text), text},
		{"long UTF-16LE", inUTF16(binary.LittleEndian, strings.Repeat(text, 5000)), strings.Repeat(text, 5000)},
		{"a line feed", []byte("\n"), "\n"},
		{"nothing", nil, ""},
	} {
		for how, in := range map[string]io.Reader{"at once": bytes.NewReader(c.data), "in halves": iotest.HalfReader(bytes.NewReader(c.data))} {
			r, err := plainText(in)
			if err != nil {
				t.Errorf("%s %s: %v", c.name, how, err)
				continue
			}
			if got, err := io.ReadAll(r); err != nil || string(got) != c.want {
				t.Errorf("%s %s: %q, %v, want %q", c.name, how, got, err, c.want)
			}
		}
	}
	for name, data := range map[string]string{"JPEG": "\xff\xd8\xff\xe0\x00\x10JFIF", "PDF": "%PDF-1.4\n", "zero bytes": "PK\x03\x04\x00\x00"} {
		if _, err := plainText(strings.NewReader(data)); !errors.Is(err, errNoText) {
			t.Errorf("%s: %v, want %v", name, err, errNoText)
		}
	}
	broken := errors.New("broken")
	if _, err := plainText(iotest.ErrReader(broken)); !errors.Is(err, broken) {
		t.Errorf("a reader that fails: %v", err)
	}
}

// A line that a hand scanner has sent is there before the next one comes.
func TestPlainTextWaitsForNoMore(t *testing.T) {
	in, out := io.Pipe()
	defer out.Close()
	defer time.AfterFunc(outside.Patience, func() { out.CloseWithError(errors.New("it waits for more")) }).Stop()
	go out.Write([]byte("2026X001\n"))
	r, err := plainText(in)
	if err != nil {
		t.Fatal(err)
	}
	line := make([]byte, 100)
	if n, err := r.Read(line); err != nil || string(line[:n]) != "2026X001\n" {
		t.Errorf("read %q, %v", line[:n], err)
	}
}
