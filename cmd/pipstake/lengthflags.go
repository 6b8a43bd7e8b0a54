package main

import (
	"math"
	"strconv"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/words"
)

// lengthFlag is a flag's value that is a length in millimetres, below zero too.
type lengthFlag struct {
	mm    float64
	given bool
}

// length adds a flag for a length.
func (f *flags) length(name, usage string) *lengthFlag {
	l := &lengthFlag{}
	f.set.Var(l, name, usage)
	return l
}

func (l *lengthFlag) Set(s string) error {
	v, ok := parseLength(s)
	if !ok {
		return problem.Use("it is no length", "give millimetres, such as 1.5")
	}
	l.mm, l.given = v, true
	return nil
}

func (l *lengthFlag) String() string { return "" }
func (l *lengthFlag) Type() string   { return "MM" }

// sizeFlag is a flag's value that is a width and a height in millimetres.
type sizeFlag struct {
	w, h  float64
	given bool
}

// size adds a flag for a width and a height.
func (f *flags) size(name, usage string) *sizeFlag {
	s := &sizeFlag{}
	f.set.Var(s, name, usage)
	return s
}

func (f *sizeFlag) Set(s string) error {
	first, second, ok := strings.Cut(strings.ToLower(strings.ReplaceAll(s, "×", "x")), "x")
	w, ok1 := parseLength(first)
	h, ok2 := parseLength(second)
	if !ok || !ok1 || !ok2 || w <= 0 || h <= 0 {
		return problem.Use("it is no width and height", "give both in millimetres, such as 63.5x38.1")
	}
	f.w, f.h, f.given = w, h, true
	return nil
}

func (f *sizeFlag) String() string { return "" }
func (f *sizeFlag) Type() string   { return "WxH" }

// parseLength reads millimetres, with a decimal point or a decimal comma, the
// minus sign of a printed page, and "mm" behind.
func parseLength(s string) (float64, bool) {
	s = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "mm"))
	s = strings.Replace(strings.Replace(s, ",", ".", 1), "−", "-", 1)
	if strings.Trim(s, "+-0123456789.") != "" || len(s) > 12 {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return math.Round(v*1e4) / 1e4, err == nil
}

// mm writes millimetres with no more decimals than they need, two at most.
func mm(v float64) string { return words.Number(v, 2) }
