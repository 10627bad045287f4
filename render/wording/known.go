package wording

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/compare"
	"locksweep/geometry/setup"
	"locksweep/geometry/tolerance"
)

// Known says figures no finer than they are known. The zero Known says them as they are: nothing is known of them.
type Known struct{ Sure *tolerance.Result }

// figuresBefore finds the figures that stand before a unit, with it; without a unit any figure.
var figuresBefore = map[string]*regexp.Regexp{
	"°":   regexp.MustCompile(`\d+\.\d+°|\d+°`),
	" mm": regexp.MustCompile(`\d+\.\d+ mm|\d+ mm`),
	" in": regexp.MustCompile(`\d+\.\d+ in\b|\d+ in\b`),
	"":    regexp.MustCompile(`\d+\.\d+|\d+`),
}

// Says returns a text with its figures cut back to what a figure of the comparison is known to: angles that stand before a degree sign where it is
// an angle, lengths that stand before their unit where it is a length.
func (k Known) Says(key, text string) string { return k.cut(key, text, true) }

// Cell is Says for the cell of a table, which holds a figure without its unit.
func (k Known) Cell(key, text string) string { return k.cut(key, text, false) }

func (k Known) cut(key, text string, units bool) string {
	if k.Sure == nil {
		return text
	}
	plusMinus, of := lessSure(k.Sure, key)
	if of == nil {
		return text
	}
	unit := ""
	switch {
	case units && of.Kind == compare.Angle:
		unit = "°"
	case units && (of.Kind == compare.Length || of.Kind == compare.Ground):
		unit = " " + k.Sure.Setup.Unit.String()
	}
	return noFiner(text, unit, FigureValue(k.Sure.Setup.Unit, of.Kind, plusMinus))
}

// At returns two functions that cut figures without a unit back to what is known at a column angle: of the wheels' angles, and of the Ackermann
// error. They leave a text as it is where nothing is known there.
func (k Known) At(column s1.Angle) (wheel, off func(text string) string) {
	var band *tolerance.Band
	if k.Sure != nil {
		band = k.Sure.Band(column)
	}
	by := func(which ...int) func(string) string {
		plusMinus := 0.0
		for _, i := range which {
			if band != nil && !math.IsNaN(float64(band.PlusMinus(i))) {
				plusMinus = math.Max(plusMinus, band.PlusMinus(i).Degrees())
			}
		}
		return func(text string) string { return noFiner(text, "", plusMinus) }
	}
	return by(int(setup.Left), int(setup.Right)), by(tolerance.AckermannError)
}

// noFiner cuts the figures of a text that stand before a unit back to the place of the first digit of their ±: digits behind that say nothing (GUM
// 7.2.6, memory). What would be nought by that stays as it is.
func noFiner(text, unit string, plusMinus float64) string {
	if !(plusMinus > 0) || math.IsInf(plusMinus, 0) {
		return text
	}
	place := int(math.Floor(math.Log10(plusMinus) + 1e-9))
	step, decimals := math.Pow10(place), max(-place, 0)
	return figuresBefore[unit].ReplaceAllStringFunc(text, func(found string) string {
		digits := strings.TrimSuffix(found, unit)
		_, behind, _ := strings.Cut(digits, ".")
		v, err := strconv.ParseFloat(digits, 64)
		cut := math.Round(v/step) * step
		if err != nil || len(behind) <= decimals && place <= 0 || cut == 0 {
			return found
		}
		return Fixed(cut, decimals) + unit
	})
}
