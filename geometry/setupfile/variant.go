package setupfile

import (
	"bytes"
	"slices"

	"github.com/pelletier/go-toml/v2/unstable"
)

// MostVariants is how many variants a file may have.
const MostVariants = 100

// maxEdits bounds the work of checking each variant.
const maxEdits = 200 // of one variant

// variant is a named change to the setup.
type variant struct {
	name  string
	at    place
	edits []edit
}

// readVariants reads [[variant]] and, where it is asked to, checks that each leaves a sound setup.
func (f *file) readVariants(check bool) {
	d := &decoder{broken: f.broken}
	t := &table{d: d, n: f.root, at: place{f.doc, 0, 0}}
	for _, item := range d.counted(t.get("variant"), MostVariants) {
		v := d.variant(item.sub())
		if v.name != "" && f.find(v.name) >= 0 {
			d.fail(v.at, item.key()+".name", "%s is the name of another variant; each needs its own", quoted(v.name))
		}
		f.variants = append(f.variants, v)
	}
	d.tellUnknown()
	f.errs = append(f.errs, d.errs...)
	for _, v := range f.variants {
		if check {
			f.check(v)
		}
	}
}

// variant reads one [[variant]]. Further keys that change a setup are read here, into further edits.
func (d *decoder) variant(t *table) variant {
	name := t.need("name", "what the variant is called")
	v := variant{name: name.text(), at: name.at}
	t.rename("variant", name)
	set := t.need("set", `what it changes, such as { "arm.pickup" = [-95, -42, 0] }`).sub()
	if set.n != nil && len(set.n.fields) > maxEdits {
		d.fail(set.at, joinPath(t.path, "set"), "has %d keys; at most %d are read", len(set.n.fields), maxEdits)
	} else if set.n != nil {
		for _, f := range set.n.fields {
			path, wrong := parsePath(f.name)
			if wrong != "" {
				d.fail(f.at, joinPath(joinPath(t.path, "set"), f.name), "%s", wrong)
				continue
			}
			v.edits = append(v.edits, edit{path, f.at, f.val})
		}
	}
	t.done()
	return v
}

// find returns the index of the variant, or -1.
func (f *file) find(name string) int {
	return slices.IndexFunc(f.variants, func(v variant) bool { return v.name == name })
}

// apply returns the tree with the variant's changes and every error on the way.
func (v variant) apply(root *node) (*node, Errors) {
	var errs Errors
	for _, e := range v.edits {
		next, bad := e.apply(root)
		if bad != nil {
			errs = append(errs, bad)
			continue
		}
		root = next
	}
	return root, errs
}

// check decodes the file with the variant. What it breaks is shown at what it sets, even where the
// mistake comes out elsewhere.
func (f *file) check(v variant) {
	root, errs := v.apply(f.root)
	f.errs = append(f.errs, errs...)
	known := len(f.errs)
	f.decode(root, "in variant "+quoted(v.name))
	for i, e := range f.errs[known:] {
		if !v.sets(e.at) {
			f.errs[known+i] = v.at.error(e.Key, e.Text)
		}
	}
}

// sets reports an error in one of the keys or values that the variant sets.
func (v variant) sets(at place) bool {
	for _, ed := range v.edits {
		for _, p := range []place{ed.at, ed.val.at} {
			if at.doc == p.doc && at.start >= p.start && at.start <= p.end {
				return true
			}
		}
	}
	return false
}

// withVariant returns the file's tree with the named variant; ok is false, and an error noted, where there is none.
func (f *file) withVariant(name string) (root *node, ok bool) {
	i := f.find(name)
	if i < 0 {
		var names []string
		for _, v := range f.variants {
			names = append(names, v.name)
		}
		said := "the file has no variants"
		if len(names) > 0 {
			said = "the file has no variant " + quoted(name) + orList(name, names)
		}
		f.errs = append(f.errs, &Error{Source: f.doc.source, Key: "variant", Text: said})
		return f.root, false
	}
	root, errs := f.variants[i].apply(f.root)
	return root, len(errs) == 0 // the errors are noted by check
}

// parseSet reads a --set argument: key=value with a TOML value. Text needs no quotes, since a shell
// takes them away.
func parseSet(arg string) (edit, *Error) {
	doc := &document{source: "--set", flag: true, data: []byte(arg)}
	refuse := func(key, text string) (edit, *Error) { return edit{}, doc.errorAt(0, key, text) }
	if len(arg) > maxBytes || invalidUTF8(doc.data) >= 0 {
		return refuse("", "is not a text of bearable size")
	}
	key, value, ok := SplitSet(arg)
	if !ok {
		return refuse("", "should read key=value, such as arm.pickup[1]=-42")
	}
	path, wrong := parsePath(key)
	if wrong != "" {
		return refuse(key, wrong)
	}
	if value == "" {
		return edit{path, place{doc, 0, len(key)}, &node{kind: text, at: place{doc, 0, len(key)}}}, nil
	}
	start := bytes.LastIndex(doc.data, []byte(value))
	val, bad := parseValue(doc, start, pathString(path))
	if bad != nil {
		return edit{}, bad
	}
	return edit{path, place{doc, 0, len(key)}, val}, nil
}

// parseValue reads the TOML value that fills doc from start on. What is no TOML is taken for text if it
// holds nothing that only TOML would.
func parseValue(doc *document, start int, key string) (*node, *Error) {
	const head = "v="
	p := parser{doc: &document{source: doc.source, flag: true, data: append([]byte(head), doc.data[start:]...)}}
	p.toml.Reset(p.doc.data)
	if p.toml.NextExpression() && p.toml.Expression().Kind == unstable.KeyValue {
		val, end := p.value(p.toml.Expression().Value(), len(head), 0)
		if !p.toml.NextExpression() && p.toml.Error() == nil && skipTrivia(p.doc.data, end, "") == len(p.doc.data) {
			if len(p.errs) > 0 {
				return nil, doc.errorAt(start, key, p.errs[0].Text)
			}
			val.move(doc, start-len(head))
			return val, nil
		}
	}
	if bytes.ContainsAny(doc.data[start:], "[]{}\"'=\n\r") {
		return nil, doc.errorAt(start, key, "is not a value: a number, text, [list] or {table}")
	}
	return &node{kind: text, at: place{doc, start, len(doc.data)}, str: string(bytes.TrimSpace(doc.data[start:]))}, nil
}

// move shifts a value and all in it to another document.
func (n *node) move(doc *document, by int) {
	n.at = place{doc, n.at.start + by, n.at.end + by}
	for _, item := range n.items {
		item.move(doc, by)
	}
	for i := range n.fields {
		f := &n.fields[i]
		f.at = place{doc, f.at.start + by, f.at.end + by}
		f.val.move(doc, by)
	}
}
