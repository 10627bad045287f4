// Package setupfile answers what a setup file says: format 1, its defaults, units, variants and settings, and where
// in the file a mistake stands. What it reads is a setup.Setup, in millimetres and s1.Angle whatever the unit of the file.
package setupfile

import (
	"cmp"
	"path/filepath"
	"slices"
	"strings"

	"locksweep/geometry/setup"
)

// format is the number of the file format that is read.
const format = 1

// Options are changes to a file as it is read.
type Options struct {
	Variant string   // name of the variant to apply; empty for the file as it stands
	Set     []string // "key=value" each, applied after the variant in this order; the value is TOML or bare text
	// Known says that the file was read before and is sound, so that not every other variant is tried again each time that one is read.
	Known bool
}

// String says the options for a reader: variant "wide", arm.pickup[1]=-42.
func (opt Options) String() string {
	var said []string
	if opt.Variant != "" {
		said = append(said, "variant "+quoted(opt.Variant))
	}
	for _, set := range opt.Set {
		said = append(said, setup.Printable(set))
	}
	return strings.Join(said, ", ")
}

// Read reads a setup file. Source is its name in messages. The file as it stands, each of its variants and
// what the options make of it must all be sound; the error is an Errors with every mistake found.
func Read(source string, data []byte, opt Options) (*setup.Setup, []Warning, error) {
	doc, bad := newDocument(source, data)
	if bad != nil {
		return nil, nil, Errors{bad}
	}
	root, errs := parse(doc)
	f := &file{doc: doc, root: root, broken: len(errs) > 0, errs: errs, outlines: map[outlineKey]outlineResult{}}
	s, warnings := f.decode(root, "")
	f.readVariants(!opt.Known)
	f.tooLittle(warnings)
	own := s
	if opt.Variant != "" || len(opt.Set) > 0 {
		if s, warnings = f.changed(opt); s != nil {
			s.With = opt.String()
			if own != nil && !s.MarksStop() {
				s.Lost = own.Marked()
			}
		}
	}
	if list := f.errs.tidy(); len(list) > 0 {
		return nil, nil, list
	}
	for _, v := range f.variants {
		s.Variants = append(s.Variants, v.name)
	}
	return s, warnings, nil
}

// tooLittle makes a mistake of a figure of the file as it stands that is doubted and of which a change leaves nothing.
func (f *file) tooLittle(doubted []Warning) {
	for _, w := range doubted {
		if w.Code == "ten-times" && slices.ContainsFunc(f.errs, func(e *Error) bool { return e.little == w.Key }) {
			f.errs = append(f.errs, w.at.error(w.Key, w.Text))
		}
	}
}

// file is a setup file on its way from tree to Setup.
type file struct {
	doc      *document
	root     *node
	broken   bool
	errs     Errors
	variants []variant
	outlines map[outlineKey]outlineResult
	measured map[string]bool // keys that the file as it stands may give an accuracy for; nil until that is read
	own      *setup.Setup    // the file as it stands, before its [change]
}

// decode reads the file's tree, or one derived from it. Errors that are not noted yet are, with context before their text.
func (f *file) decode(root *node, context string) (*setup.Setup, []Warning) {
	d := &decoder{broken: f.broken, outlines: f.outlines, elsewhere: f.measured, file: f.root, own: f.own}
	s := d.setup(root, f.doc)
	if f.measured == nil {
		if f.own = s; s.Before != nil {
			f.own = s.Before
		}
		f.measured = map[string]bool{}
		for _, r := range s.Readings() {
			for _, key := range r.Holds {
				f.measured[key] = true
			}
		}
	}
	for _, e := range d.errs {
		if slices.ContainsFunc(f.errs, func(noted *Error) bool { return *noted == *e }) {
			continue
		}
		if context != "" {
			told := *e
			told.Text = context + ": " + e.Text
			e = &told
		}
		f.errs = append(f.errs, e)
	}
	return s, d.warnings
}

// changed decodes the file with the chosen variant and settings.
func (f *file) changed(opt Options) (*setup.Setup, []Warning) {
	root, ok := f.root, true
	if opt.Variant != "" {
		root, ok = f.withVariant(opt.Variant)
	}
	for _, arg := range opt.Set {
		e, bad := parseSet(arg)
		var next *node
		if bad == nil {
			next, bad = e.apply(root)
		}
		if bad != nil {
			f.errs = append(f.errs, bad)
			ok = false
			continue
		}
		root = next
	}
	if !ok {
		return nil, nil
	}
	return f.decode(root, "")
}

// setup reads a whole tree. A format of the future stops the reading: its keys may mean other things.
func (d *decoder) setup(root *node, doc *document) *setup.Setup {
	t := &table{d: d, n: root, at: place{doc, 0, 0}}
	s := &setup.Setup{Name: baseName(doc.source)}
	if !d.format(t.need("locksweep", "the number of the format; write locksweep = 1")) {
		return s
	}
	units := t.need("units", `write units = "mm" or units = "in"`)
	d.unit = setup.Unit(max(0, units.among(`"mm" or "in"`, setup.MM.String(), setup.Inch.String())))
	s.Unit = d.unit
	if name := t.get("name"); name.given() {
		s.Name = name.text()
	}
	d.frontAxle(t, s)
	d.steering(t, s)
	d.rear(t.get("vehicle").sub(), s)
	d.space(t.get("space").sub(), s)
	d.aims(t.get("aims").sub(), s)
	d.load(t.get("load").sub(), s)
	d.parts(t, s)
	d.checks(t, s)
	d.accuracy(t.get("accuracy"), s)
	d.silent(t, s)
	if len(d.errs) == 0 && !d.broken {
		d.doubts(t, s)
	}
	d.inOrder(t)
	d.change(t.get("change").sub(), s)
	t.get("variant") // read apart
	t.done()
	d.tellUnknown()
	return s
}

// format checks the number of the format, and reports whether the rest can be read: it cannot where the format is a later one.
func (d *decoder) format(v value) bool {
	n := v.number()
	switch {
	case n > format:
		v.fail("is format %s; this program reads format 1 and needs to be newer for this file", elide(v.n.str))
	case n < format:
		v.fail("is %s, should be 1", elide(v.n.str))
	}
	return !(n > format)
}

// baseName is the name of a source without folders and extension.
func baseName(source string) string {
	base := filepath.Base(source)
	return cmp.Or(strings.TrimSuffix(base, filepath.Ext(base)), base)
}
