package sheet

import (
	"fmt"
	"slices"
	"strings"
)

// paint is how a shape or a text looks, in the words of CSS. Each that a drawing uses stands once, in its style
// element, and the shapes name it.
type paint string

// stroked and filled join what a pen and a fill leave; nothing said is no line and no fill.
func painted(pen Pen, fill Fill) paint {
	said := []string{}
	if pen.draws() {
		said = append(said, pen.stroke())
	}
	if fill.Tinted {
		said = append(said, "fill:"+fill.Tint.String())
	}
	return paint(strings.Join(said, ";"))
}

// class returns the attribute that gives a shape its paint.
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

// rules is the style of the drawing's classes, each behind a selector of what they stand in.
func (s *Sheet) rules(within string) string {
	var b strings.Builder
	for i, p := range s.paints {
		fmt.Fprintf(&b, "\n%s.%s{%s}", within, className(i), p)
	}
	return b.String()
}
