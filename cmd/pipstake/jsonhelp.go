package main

import (
	"fmt"
	"reflect"
	"strings"

	"pipstake/cmd/pipstake/terminal"
)

// jsonAnswer is one answer in JSON: the command that gives it, when, and a value
// of its type.
type jsonAnswer struct {
	command, when string
	value         any
}

// jsonAnswers are all answers in JSON, in the order of the commands.
var jsonAnswers = []jsonAnswer{
	{"variety", "a list; with NAME one object", varietyJSON{}},
	{"scan", "an object a line, for each code", answerFacts{}},
	{"scan", "for each count that is typed", tally{}},
	{"scan", "--photo, for each photograph", photographFacts{}},
	{"stocktake", "", stocktakeFacts{}},
	{"due", "", dueFacts{}},
	{"germination", "", germinationFacts{}},
	{"yield", "", yieldOutcome{}},
	{"plan", "", planFacts{}},
	{"lineage", "an object a line, for each ID", lineageFacts{}},
	{"check", "", checkFacts{}},
	{"history", "", historyFacts{}},
	{"stock", "list: a list; show: one object", stockFacts{}},
}

// explainJSON prints the shape of all answers in JSON.
func (e *env) explainJSON() {
	e.Say("Reading commands answer in JSON with --json. What is not known is left out.\nDays are written 2027-01-14. Names are added in time; none that is here goes or\nchanges its meaning.")
	for _, a := range jsonAnswers {
		e.Say("")
		e.Say("pipstake %s", strings.TrimSpace(a.command+" --json  "+a.when))
		var t terminal.Table
		jsonRows(&t, reflect.TypeOf(a.value), "", map[reflect.Type]string{})
		e.SayTable(&t, "  ")
	}
}

// jsonRows adds a row for each name in a type, those within others further in.
// Shown are the types that stand further up, by the name that they stand under.
func jsonRows(t *terminal.Table, of reflect.Type, indent string, shown map[reflect.Type]string) {
	for _, f := range jsonFields(of) {
		inner, list := plainType(f.of)
		kind := jsonKind(inner)
		name, again := shown[inner]
		if again {
			kind += " as " + name
		}
		if list {
			kind = "list of " + kind
		}
		if f.optional {
			kind += ", where known"
		}
		t.Row(indent+f.name, kind, jsonMeaning(of.Name(), f.name))
		if inner.Kind() == reflect.Struct && !again {
			shown[inner] = f.name
			jsonRows(t, inner, indent+"  ", shown)
		}
	}
}

// jsonField is a field of a type as JSON has it.
type jsonField struct {
	name     string
	of       reflect.Type
	optional bool
}

// jsonFields are those that JSON shows, in their order.
func jsonFields(of reflect.Type) []jsonField {
	var fields []jsonField
	for i := range of.NumField() {
		f := of.Field(i)
		if name, options, _ := strings.Cut(f.Tag.Get("json"), ","); name != "" && f.IsExported() {
			fields = append(fields, jsonField{name, f.Type, options == "omitempty" || f.Type.Kind() == reflect.Pointer})
		}
	}
	return fields
}

// plainType is a type without pointers, or the type of a list's elements.
func plainType(of reflect.Type) (plain reflect.Type, list bool) {
	for of.Kind() == reflect.Pointer {
		of = of.Elem()
	}
	if of.Kind() == reflect.Slice || of.Kind() == reflect.Array {
		of, list = of.Elem(), true
	}
	return of, list
}

// jsonKind is what JSON shows of a type that is no list.
func jsonKind(of reflect.Type) string {
	switch of.Kind() {
	case reflect.String:
		return "text"
	case reflect.Bool:
		return "true or false"
	case reflect.Int, reflect.Float64:
		return "number"
	case reflect.Struct:
		return "object"
	}
	panic(fmt.Sprintf("JSON answers have no %s", of)) // the types are part of the program
}
