package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Pen is a line on paper: its width in millimetres, its type after ISO 128 and its colour. A pen
// drawn in a pale colour comes out darker, so that every line stands 3:1 against the paper.
type Pen struct {
	Width  float64
	Line   Line
	Colour Colour
}

// In gives the same pen in another colour.
func (p Pen) In(c Colour) Pen { p.Colour = c; return p }

// The pens of a drawing: one wide and one thin line, in the ratio 2:1, after ISO 128-2.
var (
	Visible   = Pen{Width: 0.5}                           // visible outlines and edges
	Thin      = Pen{Width: 0.25}                          // dimension, extension, leader and hatching lines
	Hidden    = Pen{Width: 0.25, Line: Dashed}            // hidden edges
	Centre    = Pen{Width: 0.25, Line: LongDashDot}       // centre lines, axes
	Phantom   = Pen{Width: 0.25, Line: LongDashDoubleDot} // other positions, neighbouring parts
	border    = Pen{Width: 0.7}                           // frame of the drawing space
	Grid      = Pen{Width: 0.13, Colour: Grey}            // grid of a chart
	Wide      = Pen{Width: 0.7}                           // what a reader must see first: cuts, new holes
	NoPen     = Pen{}                                     // no line: for areas without an edge
	CurvePens = [6]Pen{                                   // curves of a chart, each told apart without colour
		{Width: 0.5, Line: Continuous, Colour: Blue},
		{Width: 0.5, Line: Dashed, Colour: Vermilion},
		{Width: 0.5, Line: LongDashDot, Colour: Green},
		{Width: 0.5, Line: Dotted, Colour: Purple},
		{Width: 0.5, Line: LongDashDoubleDot, Colour: Black},
		{Width: 0.5, Line: LongDash, Colour: Orange},
	}
)

// Line is a line type of ISO 128-2.
type Line int

const (
	Continuous        Line = iota
	Dashed                 // 02
	LongDash               // 03, spaced wider
	LongDashDot            // 04
	LongDashDoubleDot      // 05
	Dotted                 // 07
)

// dashes gives the lengths of strokes and gaps as multiples of the line's width: ISO 128-2 (dash
// 12, long dash 24, gap 3). A dot is one width long, twice the standard's, so that a home printer
// does not lose it.
var dashes = map[Line][]float64{
	Dashed:            {12, 3},
	LongDash:          {24, 6},
	LongDashDot:       {24, 3, 1, 3},
	LongDashDoubleDot: {24, 3, 1, 3, 1, 3},
	Dotted:            {1, 3},
}

// dashArray returns strokes and gaps in millimetres. Lines wider than 0.25 get shorter ones than the
// standard's, which would be as long as what is drawn; a dot stays as long as the line is wide.
func (p Pen) dashArray() string {
	unit := p.Width
	if unit > 0.25 {
		unit = 0.25 + (unit-0.25)*0.4
	}
	var parts []string
	for _, k := range dashes[p.Line] {
		length := k * unit
		if k == 1 {
			length = p.Width
		}
		parts = append(parts, number(length))
	}
	return strings.Join(parts, " ")
}

// draws reports whether the pen leaves a line at all.
func (p Pen) draws() bool { return p.Width > 0 && p.Width <= 10 }

// stroke says in the words of CSS what a line drawn with the pen looks like.
func (p Pen) stroke() string {
	s := fmt.Sprintf("stroke:%s;stroke-width:%s", p.Colour.forLine(), number(p.Width))
	if d := p.dashArray(); d != "" {
		s += ";stroke-dasharray:" + d
	}
	return s
}

// Letter heights after ISO 3098, millimetres: the height of a capital. Fine is for what is read
// seldom, on the title block.
const (
	Fine   = 1.8
	Small  = 2.5
	Medium = 3.5
)

// Dimension lines after ISO 129-1, millimetres.
const (
	DimGap      = 8.0  // from an outline to its first dimension line and from one line to the next
	arrowLength = 2.5  // of a filled arrowhead
	arrowHalf   = 0.42 // half its width
	extension   = 2.0  // of an extension line past the dimension line
	extGap      = 0.8  // between the outline and its extension line
	textGap     = 0.9  // between a dimension line and the text above it
	underscore  = 0.3  // more of it for a text with an underscore, in letter heights
)

// Fill is what an area is filled with: a tint, hatching or both. The zero Fill is empty.
type Fill struct {
	Tint   Colour
	Tinted bool
	Hatch  Hatch
}

// Hatch is a set of parallel thin lines: their angle anticlockwise from the sheet's horizontal in
// degrees, their distance in millimetres, and whether a second set crosses them. Spacing 0 is none.
type Hatch struct {
	Angle, Spacing float64
	Cross          bool
}

// The fills of a drawing. Each prints apart from the others without colour.
var (
	NoFill  = Fill{}
	Paper   = Tinted(White)                                                                          // covers what lies below
	Shade   = Tinted(PaleGrey)                                                                       // parts that only stand by
	Removed = Fill{Tint: 0xF7D9C4, Tinted: true, Hatch: Hatch{Angle: 45, Spacing: 1.2, Cross: true}} // metal that comes off
)

// Tinted is a plain fill of one colour.
func Tinted(c Colour) Fill { return Fill{Tint: c, Tinted: true} }

// Step returns the fill of step i, from 0, of n on a map: from white to a middle blue, evenly darker in grey too. Black lettering
// on it keeps a contrast of 4.5:1.
func Step(i, n int) Fill {
	return Tinted(mix(White, 0x6FA8D6, min(1, max(0, float64(i)/float64(max(1, n-1))))))
}

// Decimal prints a figure with a number of decimals. What lies in the middle between two is rounded away from nought, and so is
// what rounding has left just short of the middle: a figure whose last bit is another on another processor must not print another
// digit.
func Decimal(v float64, decimals int) string {
	const tie = 1e-7 // of the last digit
	return strconv.FormatFloat(v+math.Copysign(tie*math.Pow10(-decimals), v), 'f', decimals, 64)
}

// number prints a length in millimetres to a thousandth, without needless zeros.
func number(x float64) string {
	s := Decimal(x, 3)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// paint is how a shape or a text looks, in the words of CSS. Each that a drawing uses stands once, in its style
// element, and the shapes name it.
type paint string

// painted is how a shape looks that is drawn with a pen and filled, its hatching left out; empty where neither leaves anything.
func painted(pen Pen, fill Fill) paint {
	var said []string
	if pen.draws() {
		said = append(said, pen.stroke())
	}
	if fill.Tinted {
		said = append(said, "fill:"+fill.Tint.String())
	}
	return paint(strings.Join(said, ";"))
}

// class returns the attribute that gives a shape a paint.
func (s *Sheet) class(p paint) string {
	i := slices.Index(s.paints, p)
	if i < 0 {
		i = len(s.paints)
		s.paints = append(s.paints, p)
	}
	return `class="` + className(i) + `"`
}

// className is a, b, … z, ba, bb, …
func className(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return className(i/26) + className(i%26)
}

// rules is the style of the drawing's classes, each behind the selector within.
func (s *Sheet) rules(within string) string {
	var b strings.Builder
	for i, p := range s.paints {
		fmt.Fprintf(&b, "\n%s.%s{%s}", within, className(i), p)
	}
	return b.String()
}

// Colour is 0xRRGGBB. The zero Colour is black.
type Colour uint32

// The palette of Okabe and Ito, told apart by colour-blind readers, and greys.
const (
	Black     Colour = 0x000000
	Blue      Colour = 0x0072B2
	Vermilion Colour = 0xD55E00
	Green     Colour = 0x009E73
	Purple    Colour = 0xCC79A7
	Orange    Colour = 0xE69F00
	Grey      Colour = 0x8C8C8C
	PaleGrey  Colour = 0xE6E6E6
	White     Colour = 0xFFFFFF
)

func (c Colour) String() string { return fmt.Sprintf("#%06X", uint32(c)&0xFFFFFF) }

// contrast is the contrast ratio of two colours, 1 to 21, after WCAG 2.
func contrast(a, b Colour) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// luminance is the relative luminance of an sRGB colour, 0 to 1 (WCAG 2).
func luminance(c Colour) float64 {
	linear := func(v Colour) float64 {
		x := float64(v&0xFF) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*linear(c>>16) + 0.7152*linear(c>>8) + 0.0722*linear(c)
}

// forLine and forText darken a colour until it stands 3:1, or 4.5:1, against white paper.
func (c Colour) forLine() Colour { return c.darkened(3) }
func (c Colour) forText() Colour { return c.darkened(4.5) }

func (c Colour) darkened(least float64) Colour {
	dark := c
	for t := 0.0; t < 1 && contrast(dark, White) < least; t += 0.02 {
		dark = mix(c, Black, t)
	}
	return dark
}

// Light is the colour as a tint: ink and letters of any colour can be read on it.
func (c Colour) Light() Colour { return mix(c, White, 0.78) }

// mix goes from a to b as t goes from 0 to 1.
func mix(a, b Colour, t float64) Colour {
	var out Colour
	for shift := 0; shift <= 16; shift += 8 {
		x, y := float64(a>>shift&0xFF), float64(b>>shift&0xFF)
		out |= Colour(math.Round(x+(y-x)*t)) << shift
	}
	return out
}

// A legend's sample of a line or a fill, and what lies between it and its words, mm on paper.
const (
	SampleWide = 11.0
	SampleHigh = 3.0
	SampleGap  = 2.0
)
