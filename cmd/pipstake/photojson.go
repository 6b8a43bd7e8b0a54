package main

import (
	"math"

	"pipstake/label/symbol"
	"pipstake/label/symbol/photo"
)

// photographFacts is a photograph in JSON.
type photographFacts struct {
	Photo   string        `json:"photo"`
	Read    int           `json:"codes_read"`
	NotRead int           `json:"codes_not_read"`
	Codes   []codeFacts   `json:"codes"`            // all that were read
	Unread  []placeFacts  `json:"places,omitempty"` // of those not read
	Others  []string      `json:"other_codes,omitempty"`
	Error   string        `json:"error,omitempty"`
	Answers []answerFacts `json:"answers"`
}

// codeFacts is a code that was read on a photograph.
type codeFacts struct {
	Text    string        `json:"text"`
	ID      string        `json:"id,omitempty"` // where it is a label's
	Code    string        `json:"symbology"`
	Corners []cornerFacts `json:"corners"`
}

// cornerFacts is a corner of a code's modules, in pixels, to a tenth, from the
// upper left corner of the photograph as it stands upright.
type cornerFacts struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

func readFacts(codes []photo.Code) []codeFacts {
	all := []codeFacts{}
	for _, c := range codes {
		f := codeFacts{Text: c.Text, Code: "QR"}
		if c.Kind == symbol.DataMatrix {
			f.Code = "Data Matrix"
		}
		if payload, _, err := symbol.ParseScan(c.Text); err == nil {
			f.ID = payload.ID.String()
		}
		for _, at := range c.Corners {
			f.Corners = append(f.Corners, cornerFacts{math.Round(at.X*10) / 10, math.Round(at.Y*10) / 10})
		}
		all = append(all, f)
	}
	return all
}

// placeFacts is a place on a photograph, in pixels from its upper left corner.
type placeFacts struct {
	X int `json:"x"`
	Y int `json:"y"`
}

func placesOf(codes []photo.Code) []placeFacts {
	places := []placeFacts{}
	for _, c := range codes {
		places = append(places, placeFacts{int(c.Centre().X), int(c.Centre().Y)})
	}
	return places
}

func (s *scanner) photographJSON(p photograph) error {
	f := photographFacts{Photo: p.name, Read: len(p.read), NotRead: len(p.unread), Codes: readFacts(p.codes), Unread: placesOf(p.unread), Others: p.other, Answers: []answerFacts{}}
	switch {
	case p.err != nil:
		f.Error = p.err.Error()
	case p.part != nil:
		f.Error = p.part.Error()
	}
	for _, a := range s.answersTo(p) {
		s.bad = s.bad || len(a.problems) > 0
		f.Answers = append(f.Answers, a.facts())
	}
	return s.env.SayJSON(f)
}
