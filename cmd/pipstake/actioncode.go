package main

import (
	"slices"
	"strings"

	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

// actionStart begins every code that records something: letters that scanners
// send alike on all keyboards, and no identifier begins with a letter.
const actionStart = "DO "

// cardCode is one code of the card: what it says, and what the session then reads.
type cardCode struct{ code, caption string }

// readAction returns what a scanned code of the card stands for: a digit, or words
// in small letters.
func readAction(line string) (string, bool) {
	if len(line) < len(actionStart) || !strings.EqualFold(line[:len(actionStart)], actionStart) {
		return "", false
	}
	return strings.ToLower(strings.TrimSpace(line[len(actionStart):])), true
}

// ofCard is the line of the session that a code of the card makes, with the
// digits scanned before it; "" for a digit, which waits for what it counts.
func (s *scanner) ofCard(action string) string {
	digits := s.session.digits
	switch {
	case isNumber(action) && len(action) == 1:
		s.session.digits += action
		return ""
	case action == "clear":
		s.session.digits = ""
		return ""
	}
	s.session.digits = ""
	switch word, place, _ := strings.Cut(action, " "); {
	case action == "up":
		return digits
	case action == "died", action == "prick":
		return strings.TrimSpace(action + " " + digits)
	case word == "move":
		return "move " + placeCalled(s.r, place)
	}
	return action
}

// tellDigits echoes the digits scanned so far.
func (s *scanner) tellDigits() error {
	shown := s.session.digits
	if shown == "" {
		shown = "cleared"
	}
	if s.asJSON {
		return s.env.SayJSON(&tally{Read: s.session.digits, Done: "digits: " + shown, Problems: []scanProblem{}})
	}
	s.env.Say("  %s", shown)
	return nil
}

// placeCalled is the place of the registry that a code means, which knows capital
// letters of the plain alphabet only; what none is called stays as it is.
func placeCalled(r *registry.Registry, folded string) string {
	for _, place := range placesInUse(r) {
		if code, err := symbol.Fold(place); err == nil && strings.EqualFold(code, folded) {
			return place
		}
	}
	return folded
}

// placesInUse are the places where pots grow, by name.
func placesInUse(r *registry.Registry) []string {
	var places []string
	for _, p := range r.Pots() {
		if p.Place != "" && r.Grows(p.ID) && !slices.Contains(places, p.Place) {
			places = append(places, p.Place)
		}
	}
	slices.Sort(places)
	return places
}

// cardCodes are the codes of the card: the digits, what they count, and what is
// common beside a frame, with the places of the registry, most of them at most.
func cardCodes(r *registry.Registry, most int) []cardCode {
	all := []cardCode{}
	for _, digit := range "1234567890" {
		all = append(all, cardCode{string(digit), string(digit)})
	}
	all = append(all, []cardCode{
		{"UP", "up, in all"}, {"DIED", "of these died"}, {"PRICK", "pricked out"}, {"CLEAR", "digits wrong"}, {"UNDO", "undo"},
		{"GONE LOST MICE", "gone: mice"}, {"GONE LOST FROST", "gone: frost"}, {"GONE", "gone"}, {"SELECT", "worth keeping"}, {"QUIT", "end"},
	}...)
	for _, place := range placesInUse(r) {
		if len(all) == most {
			break
		}
		if code, err := symbol.Fold(place); err == nil && len("MOVE "+code) <= mostAction {
			all = append(all, cardCode{"MOVE " + code, "to " + place})
		}
	}
	for i := range all {
		all[i].code = actionStart + all[i].code
	}
	return all
}

// mostAction is the longest action that a cell of the card holds, in characters.
const mostAction = 36
