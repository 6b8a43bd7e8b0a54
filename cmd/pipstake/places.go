package main

import (
	"fmt"
	"strings"

	"pipstake/ids/registry"
	"pipstake/label/reading"
)

// spot is where a label lies: the sheet, from 1 in its batch, and the cell on
// it.
type spot struct{ sheet, cell int }

// spots gives each of tags its place on sheets of perSheet cells, in order,
// from the cell first of the first sheet on.
// The two stakes of a pair take the neighbouring cells 2k−1 and 2k, so that
// they can be cut out together; where a pair has to skip a cell for that, the
// cell stays empty.
func spots(tags []reading.Key, perSheet, first int) []spot {
	var placed []spot
	next := first - 1 // cells taken up, over all sheets
	for i := range tags {
		if perSheet > 1 && startsPair(tags, i) {
			for cell := next % perSheet; cell%2 == 1 || cell+1 == perSheet; cell = next % perSheet {
				next++
			}
		}
		placed = append(placed, spot{next/perSheet + 1, next%perSheet + 1})
		next++
	}
	return placed
}

// startsPair reports whether tags[i] and the one behind it are the two stakes
// of a pot.
func startsPair(tags []reading.Key, i int) bool {
	return i+1 < len(tags) && tags[i].ID == tags[i+1].ID && tags[i].Face == registry.StakeFace && tags[i+1].Face == registry.StakeFace &&
		tags[i].Copy == 1 && tags[i+1].Copy == 2
}

// describeSpots says which cells are printed, sheets counted from first:
// "sheet 3, cells 1–4" or "sheets 3–5, 52 cells".
func describeSpots(placed []spot, first int) string {
	sheets := placed[len(placed)-1].sheet
	if sheets > 1 {
		return fmt.Sprintf("sheets %d–%d, %d cells", first, first+sheets-1, len(placed))
	}
	var cells []int
	for _, s := range placed {
		cells = append(cells, s.cell)
	}
	word := "cells"
	if len(cells) == 1 {
		word = "cell"
	}
	return fmt.Sprintf("sheet %d, %s %s", first, word, ranges(cells))
}

// ranges shortens rising numbers: 1, 2, 3, 7 becomes "1–3, 7".
func ranges(ns []int) string {
	var parts []string
	for i := 0; i < len(ns); {
		j := i
		for j+1 < len(ns) && ns[j+1] == ns[j]+1 {
			j++
		}
		if j == i {
			parts = append(parts, fmt.Sprint(ns[i]))
		} else {
			parts = append(parts, fmt.Sprintf("%d–%d", ns[i], ns[j]))
		}
		i = j + 1
	}
	return strings.Join(parts, ", ")
}
