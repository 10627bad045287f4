package setupfile

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"locksweep/geometry/setup"
)

// Error is one mistake in a setup file or in a --set argument.
type Error struct {
	Source  string // file name, "standard input", or "--set"
	Line    int    // from 1; 0 where there is no line
	Column  int    // in characters, from 1
	Key     string // dotted path of the key; empty where the file as a whole is meant
	Text    string // what is wrong and what would be right
	Excerpt string // the line, fit to print; empty where there is none
	Caret   int    // columns of a terminal before the mistake in Excerpt
	at      place
	little  string // key of the figure that is too little for it; empty where it is itself what is wrong
}

// Error returns "source:line:column: key: text", then the line and a caret below it.
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString(setup.Printable(e.Source))
	if e.Line > 0 {
		fmt.Fprintf(&b, ":%d:%d", e.Line, e.Column)
	}
	if e.Key != "" {
		b.WriteString(": " + elide(setup.Printable(e.Key)))
	}
	b.WriteString(": " + setup.Printable(e.Text))
	if e.Excerpt != "" {
		b.WriteString("\n  " + e.Excerpt + "\n  " + strings.Repeat(" ", e.Caret) + "^")
	}
	return b.String()
}

// Errors is every mistake of a file, in the order of the file.
type Errors []*Error

// maxShown bounds how many errors one message prints.
const maxShown = 40

func (list Errors) Error() string {
	var said []string
	for _, e := range list[:min(len(list), maxShown)] {
		said = append(said, e.Error())
	}
	if len(list) > maxShown {
		said = append(said, fmt.Sprintf("and %d more", len(list)-maxShown))
	}
	return strings.Join(said, "\n")
}

// tidy drops repetitions and sorts by place; arguments come after the file.
func (list Errors) tidy() Errors {
	seen := map[Error]bool{}
	out := list[:0:0]
	for _, e := range list {
		if !seen[*e] {
			seen[*e] = true
			out = append(out, e)
		}
	}
	slices.SortStableFunc(out, func(a, b *Error) int {
		if a.Line == 0 || b.Line == 0 {
			return cmp.Compare(b.Line, a.Line)
		}
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return out
}

// Warning is a suspicion: the file is read, but somebody should look.
type Warning struct {
	Code   string // fixed word for programs: "units", "pickup-outboard", …
	Source string
	Line   int // from 1; 0 where there is no line
	Key    string
	Text   string
	at     place
}

func (w Warning) String() string {
	where := setup.Printable(w.Source)
	if w.Line > 0 {
		where += fmt.Sprintf(":%d", w.Line)
	}
	if w.Key != "" {
		where += ": " + setup.Printable(w.Key)
	}
	return where + ": " + setup.Printable(w.Text)
}

// Cause reports whether a figure seems to be in another unit, of another sign or in another's place, so that much
// else that is said of the vehicle may follow from it.
func (w Warning) Cause() bool { return causes[w.Code] > 0 }

// causes are the codes of such warnings, the first to be looked at the lowest.
var causes = map[string]int{"units": 1, "ten-times": 2, "pickup-swapped": 3, "pickup-sign": 4, "pickup-after-change": 4, "half-track": 3, "inclination-sign": 4, "rake-sign": 4, "pins-crossed": 5, "rack-crossed": 5,
	"pickup-no-hole": 6, "pickup-off-metal": 7}

// inOrder puts the causes before what may follow from them. A unit that is doubted is a mistake where the file has others: they may
// follow from it too.
func (d *decoder) inOrder(root *table) {
	last := slices.Max(slices.Collect(maps.Values(causes))) + 1
	rank := func(w Warning) int { return cmp.Or(causes[w.Code], last) }
	d.warnings = slices.DeleteFunc(d.warnings, func(w Warning) bool { // that it lies off the metal is told by the plainer doubt too
		return w.Code == "pickup-off-metal" && slices.ContainsFunc(d.warnings, func(o Warning) bool {
			return o.Key == w.Key && o.Code != w.Code && strings.HasPrefix(o.Code, "pickup-") && o.Cause()
		})
	})
	slices.SortStableFunc(d.warnings, func(a, b Warning) int { return cmp.Compare(rank(a), rank(b)) })
	if len(d.errs) > 0 && len(d.warnings) > 0 && d.warnings[0].Code == "units" {
		w := d.warnings[0]
		root.get("units").fail("is %s, but %s %s", quoted(d.unit.String()), w.Key, w.Text)
	}
}

// elide shortens what would fill the screen.
func elide(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// quoted returns text from a file as it may stand in a message.
func quoted(s string) string { return `"` + elide(setup.Printable(s)) + `"` }
