package main

import (
	"strings"

	"pipstake/ids/problem"
)

// remedies say how what a remedy of the rooms below names in braces is typed;
// OF stands for what it is about, ON for its day, and FIRST for the first of two.
var remedies = map[string]string{
	"with day":           "with --on",
	"with first day":     "with --from",
	"with note":          "with --note",
	"with seeds":         "with --seeds",
	"with registry":      "with --registry",
	"correct":            "--correct",
	"font":               "--font FILE.ttf",
	"init":               "pipstake init OF",
	"extract":            "pipstake extract OF --seeds N",
	"spoil":              "pipstake spoil OF",
	"void":               "pipstake void OF --note TEXT",
	"gone":               "pipstake gone OF",
	"back":               "pipstake gone OF --back",
	"correct facts":      "pipstake correct OF --FACT VALUE",
	"correct fruit":      "pipstake correct OF --flowers N --fruit N",
	"correct picking":    "pipstake correct OF --picked DATE --fruit N",
	"correct seeds":      "pipstake correct OF --seeds N",
	"correct count":      "pipstake correct OF --count DATE=N --died DATE=N",
	"correct that count": "pipstake correct OF --count ON=N",
	"correct those dead": "pipstake correct OF --died ON=N",
	"missing labels":     "pipstake labels --missing",
	"stocks":             "pipstake stock list",
	"check":              "pipstake check",
	"one variety":        "pipstake correct --variety FIRST OF",
	"a variety":          "pipstake variety OF --note TEXT",
}

// asTyped says how a remedy is typed.
func asTyped(remedy string) string { return asTypedWith(remedies, remedy) }

// asTypedWith says how a remedy is typed where some of it is typed otherwise.
func asTypedWith(typed map[string]string, remedy string) string {
	return problem.Spell(remedy, func(act string, about []string) (string, bool) {
		words, known := typed[act]
		name, flags, isAbout := strings.Cut(strings.TrimPrefix(words, "pipstake "), " OF")
		if !isAbout {
			return words, known
		}
		if n := len(about); n > 2 && about[n-2] == "on" {
			about, flags = about[:n-2], strings.ReplaceAll(flags, "ON", about[n-1])
		}
		if before, hasFirst := strings.CutSuffix(name, " FIRST"); hasFirst && len(about) > 0 {
			name, about = before+" "+shellWords(about[0]), about[1:]
		}
		return proposal(name, about, strings.TrimSpace(flags)), known
	})
}
