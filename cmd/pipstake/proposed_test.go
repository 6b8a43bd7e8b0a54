package main

import (
	"cmp"
	"go/ast"
	"go/parser"
	"go/token"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A command that is proposed ends where prose goes on.
var (
	commandSaid  = regexp.MustCompile(`pipstake ([a-z]+)\b`)
	withRegistry = regexp.MustCompile(` --registry ((?:'[^']*'|\\'|[^' ,;:])+)`)
	proseAfter   = regexp.MustCompile(`; |, or|, and|, before|: | \(|\?|, where|, to | (takes|tells|says|makes|shows|prints|lists|shift|again|did|does|agrees|knows|by)\b|, show, add| {2,}`)
)

// proposed lists the commands that a text proposes.
func proposed(said string) []string {
	var found []string
	names := map[string]bool{}
	for _, c := range commands() {
		names[c.name] = true
	}
	for line := range strings.Lines(said) {
		line := strings.TrimSpace(line)
		for _, at := range commandSaid.FindAllStringSubmatchIndex(line, -1) {
			if !names[line[at[2]:at[3]]] || strings.HasSuffix(line[:at[0]], `"`) {
				continue // or a command that is told of
			}
			rest := line[at[2]:]
			if end := commandSaid.FindStringIndex(rest[3:]); end != nil {
				rest = rest[:end[0]+3]
			}
			if end := proseOutsideQuotes(rest); end >= 0 {
				rest = rest[:end]
			}
			rest = strings.TrimRight(rest, " ,:…")
			if !slices.Contains(found, rest) {
				found = append(found, rest)
			}
		}
	}
	return found
}

// proseOutsideQuotes is where prose goes on after a command, or -1.
func proseOutsideQuotes(s string) int {
	for _, at := range proseAfter.FindAllStringIndex(s, -1) {
		if !inQuotes(s[:at[0]]) {
			return at[0]
		}
	}
	return -1
}

// inQuotes reports whether a quote of a shell is open at the end of s.
func inQuotes(s string) bool {
	open := rune(0)
	escaped := false
	for _, r := range s {
		switch {
		case escaped:
			escaped = false
		case open == 0 && r == '\\':
			escaped = true
		case open == 0 && (r == '\'' || r == '"'):
			open = r
		case r == open:
			open = 0
		}
	}
	return open != 0
}

// filled puts words in the place of what a hint leaves open; that the registry is
// named is no part of it.
func filled(hint string, fill map[string]string) string {
	if at := withRegistry.FindStringIndex(hint); at != nil {
		words := filled(hint[:at[0]]+hint[at[1]:], fill)
		if !strings.HasPrefix(words, hint[:at[0]]) {
			panic(hint + " is filled otherwise: " + words)
		}
		return words[:at[0]] + hint[at[0]:at[1]] + words[at[0]:]
	}
	for _, of := range []map[string]string{fill, hintWords} {
		if whole := of[hint]; whole != "" {
			return whole
		}
		longer := func(a, b string) int { return cmp.Or(len(b)-len(a), strings.Compare(a, b)) }
		for _, open := range slices.SortedFunc(maps.Keys(of), longer) {
			hint = regexp.MustCompile(`(^|[ =])`+regexp.QuoteMeta(open)+`( |$)`).ReplaceAllString(hint, "${1}"+of[open]+"${2}")
		}
	}
	return hint
}

// hintWords are what stands for what hints leave open, where a state has nothing
// better.
var hintWords = map[string]string{"N": "1", "STOCK": "a4-3x8-70x37", "POLLEN": `"Tarn Amber"`, "stock add": "stock add cards-60 --roll 60x30"}

// proposals are the texts of the program that propose a command, by where they
// stand: all but those of help, of usage lines and of flags.
func proposals(t *testing.T) map[string]string {
	t.Helper()
	names := map[string]bool{}
	for _, c := range commands() {
		names[c.name] = true
	}
	found := map[string]string{}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	set := token.NewFileSet()
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") || slices.Contains([]string{"help.go", "helptopics.go", "jsonhelp.go", "jsonnames.go", "manual.go"}, file) {
			continue
		}
		tree, err := parser.ParseFile(set, file, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(tree, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.KeyValueExpr: // of a command
				key, ok := n.Key.(*ast.Ident)
				return !ok || !slices.Contains([]string{"help", "summary", "arguments", "options"}, key.Name)
			case *ast.CallExpr: // of a flag
				if f, ok := n.Fun.(*ast.SelectorExpr); ok {
					if on, ok := f.X.(*ast.Ident); ok && on.Name == "f" {
						return false
					}
				}
			case *ast.BasicLit:
				text, err := strconv.Unquote(n.Value)
				if err != nil || n.Kind != token.STRING {
					return true
				}
				if at := commandSaid.FindStringSubmatch(text); at != nil && names[at[1]] {
					found[set.Position(n.Pos()).String()] = text
				}
			}
			return true
		})
	}
	if len(found) < 60 {
		t.Fatalf("only %d proposals were found", len(found))
	}
	return found
}
