package main

import (
	"strings"
	"testing"
)

// On a terminal, a name that is new and nearly a known one is asked about, once:
// yes takes the known one; no keeps the new one, which is known from then on.
func TestNearlyKnownNameIsAskedAbout(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := completionSeason(t)
	term := newTerminal(t, dir, "sh")
	show := func(line, want string) {
		t.Helper()
		term.keys(line, "key:Enter")
		term.until(want, func(s string) bool { return strings.Contains(s, want) })
	}
	show("pipstake cross 'Larkfield Tesel' 'Gwennol Goch' --quiet", "Larkfield Tesel is new. Did you mean Larkfield Tessel? [y/n]")
	show("y", "2027X001  ♀ Larkfield Tessel × ♂ Gwennol Goch")
	term.clear()
	show("pipstake cross 'Larkfield Tesel' 'Gwennol Goch' --quiet", "Did you mean Larkfield Tessel? [y/n]")
	show("n", "2027X002  ♀ Larkfield Tesel × ♂ Gwennol Goch")
	term.clear()
	show("pipstake cross 'Larkfield Tesel' 'Tarn Amber'", "2027X003  ♀ Larkfield Tesel × ♂ Tarn Amber")
	if s := term.screen(); strings.Contains(s, "Did you mean") || strings.Contains(s, "nearly") {
		t.Errorf("asked again:\n%s", s)
	}
}
