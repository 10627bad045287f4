package setupfile

import (
	"fmt"
	"slices"
	"strings"

	"locksweep/geometry/setup"
)

// decoder reads a tree into a Setup and gathers what is wrong on the way. A number that is missing
// or wrong reads as NaN, so that no further check fires on it.
type decoder struct {
	unit     setup.Unit
	side     setup.Side // the corner being read
	broken   bool       // the tree lacks what stood in a syntax error: nothing is called missing
	errs     Errors
	warnings []Warning
	warned   map[Warning]bool             // those in warnings
	points   int                          // of all lists so far
	outlines map[outlineKey]outlineResult // shared by the decodings of one file
	tables   []*table

	elsewhere map[string]bool // keys that the file as it stands may give an accuracy for
	file      *node           // the tree of the file as it stands
	own       *setup.Setup    // the file as it stands, before its [change]; nil while that is read
}

func (d *decoder) fail(at place, key, format string, args ...any) {
	if len(d.errs) < maxErrors {
		d.errs = append(d.errs, at.error(key, fmt.Sprintf(format, args...)))
	}
}

// table is a table being read. It remembers which keys it was asked for: the others are unknown.
type table struct {
	d     *decoder
	n     *node // nil where the file has none
	path  string
	home  string // path without names and indices
	own   bool   // stands under right.
	wrong bool   // the file has something else in its place
	at    place
	known []string
}

// get returns the value of a key that may be left out.
func (t *table) get(name string) value {
	if t.known == nil {
		t.known = make([]string, 0, 16)
	}
	if !slices.Contains(t.known, name) {
		t.known = append(t.known, name)
	}
	v := value{d: t.d, at: t.at, under: t.path, home: t.home, name: name, index: -1, own: t.own}
	if t.n == nil {
		return v
	}
	if i := t.n.find(name); i >= 0 {
		f := t.n.fields[i]
		v.n, v.own, v.at = f.val, t.own || f.right, f.val.at
		if f.val.kind == branch || f.val.birth == headed {
			v.at = f.at
		}
	}
	return v
}

// need returns the value of a key that must be there.
func (t *table) need(name, what string) value {
	v := t.get(name)
	if v.n == nil && !t.d.broken && !t.wrong {
		t.d.fail(t.at, v.key(), "is missing: %s", what)
	}
	return v
}

// done says that all keys have been asked for.
func (t *table) done() { t.d.tables = append(t.d.tables, t) }

// tellUnknown reports the keys that nobody asked for, once it is known which keys there are elsewhere.
func (d *decoder) tellUnknown() {
	for _, t := range d.tables {
		if t.n == nil {
			continue
		}
		for _, f := range t.n.fields {
			if slices.Contains(t.known, f.name) || len(d.errs) >= maxErrors {
				continue
			}
			hint := didYouMean(f.name, t.known)
			if hint == "" {
				hint = d.homeHint(t, f)
			}
			v := value{under: t.path, name: f.name, index: -1, own: t.own || f.right}
			d.fail(f.at, v.key(), "is not a key of this table%s", hint)
		}
	}
}

// homeHint says where an unknown key belongs, or what could stand in its place.
func (d *decoder) homeHint(t *table, f field) string {
	var homes []string
	for _, o := range d.tables {
		if slices.Contains(o.known, f.name) && !slices.Contains(homes, o.home) {
			homes = append(homes, o.home)
		}
	}
	switch {
	case len(homes) != 1:
		return "; known here: " + strings.Join(t.known, ", ")
	case homes[0] != "":
		return "; it belongs in [" + homes[0] + "]"
	case f.val.kind == branch:
		return "; it belongs to the whole vehicle: [" + f.name + "]"
	}
	return "; it belongs at the top of the file, before the first [heading]"
}

// sub reads a table; its node is nil where it is missing or wrong.
func (v value) sub() *table {
	t := &table{d: v.d, path: v.path(), home: joinPath(v.home, v.name), own: v.own, at: v.at}
	if v.is(branch) {
		t.n = v.n
	}
	t.wrong = t.n == nil && v.n != nil
	return t
}

// rename gives an element of a list the path that --set takes: by its name instead of its index.
func (t *table) rename(list string, name value) {
	if name.n != nil && name.n.kind == text && name.n.str != "" {
		t.path = list + "." + setup.QuoteKey(name.n.str)
	}
}

// say writes a length in the file's unit, for messages.
func (d *decoder) say(mm float64) string { return d.unit.Say(mm) }
