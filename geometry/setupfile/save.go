package setupfile

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"locksweep/geometry/setup"
)

// AddVariant returns the file with one more [[variant]] at its end, otherwise byte for byte as it was. The variant holds
// what the options change and then the change itself, "key=value" each as --set takes it, so that reading the new
// file with it gives what reading the old one with all of them gave. Where the name is taken a number is put behind it;
// called is the name used. The error is an Errors where the file, the options or the change are not sound.
func AddVariant(source string, data []byte, opt Options, name string, change []string) (out []byte, called string, err error) {
	opt.Set = append(slices.Clone(opt.Set), change...)
	if _, _, err := Read(source, data, opt); err != nil {
		return nil, "", err
	}
	doc, _ := newDocument(source, data) // it was read just now
	root, _ := parse(doc)
	f := &file{doc: doc, root: root, outlines: map[outlineKey]outlineResult{}}
	f.readVariants(true)
	edits, err := f.edits(opt)
	if err != nil {
		return nil, "", err
	}
	called = f.unused(name)
	out = append(slices.Clone(data), variantText(doc.data, called, edits)...)
	if _, _, err := Read(source, out, Options{Variant: called}); err != nil {
		return nil, "", fmt.Errorf("a variant cannot be added to this file: %w", err)
	}
	return out, called, nil
}

// edits are all that the options change, in their order, without those that a later one of the same key makes void.
func (f *file) edits(opt Options) (edits []edit, err error) {
	if i := f.find(opt.Variant); i >= 0 && opt.Variant != "" {
		edits = slices.Clone(f.variants[i].edits)
	}
	for _, arg := range opt.Set {
		e, bad := parseSet(arg)
		if bad != nil {
			return nil, Errors{bad}
		}
		edits = append(edits, e)
	}
	last := map[string]int{}
	for i, e := range edits {
		last[pathString(e.path)] = i
	}
	kept := edits[:0]
	for i, e := range edits {
		if last[pathString(e.path)] == i {
			kept = append(kept, e)
		}
	}
	return kept, nil
}

// unused returns the name, with a number behind it where another variant has it.
func (f *file) unused(name string) string {
	name = setup.Printable(name)
	called := name
	for n := 2; f.find(called) >= 0; n++ {
		called = fmt.Sprintf("%s (%d)", name, n)
	}
	return called
}

// variantText writes a [[variant]] to stand behind a file's data, with line ends like those of the file.
func variantText(data []byte, name string, edits []edit) []byte {
	var b strings.Builder
	if !bytes.HasSuffix(data, []byte("\n")) {
		b.WriteString("\n")
	}
	b.WriteString("\n[[variant]]\nname = " + tomlText(name) + "\n[variant.set]\n")
	for _, e := range edits {
		b.WriteString(tomlText(pathString(e.path)) + " = ")
		e.val.write(&b, len(`"" = `)+len(pathString(e.path)))
		b.WriteString("\n")
	}
	text := b.String()
	if i := bytes.IndexByte(data, '\n'); i > 0 && data[i-1] == '\r' {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	return []byte(text)
}

// savedWidth is where a list in a saved file is broken into lines.
const savedWidth = 100

// write writes a value as TOML; a list of lists that begins at a column and would be too long goes on over lines.
func (n *node) write(b *strings.Builder, column int) {
	switch n.kind {
	case text:
		b.WriteString(tomlText(n.str))
	case list:
		n.writeList(b, column)
	case branch:
		b.WriteString("{ ")
		for i, f := range n.fields {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(tomlText(f.name) + " = ")
			f.val.write(b, 0)
		}
		b.WriteString(" }")
	default:
		b.WriteString(n.str)
	}
}

func (n *node) writeList(b *strings.Builder, column int) {
	const indent = "  "
	b.WriteString("[")
	column++
	for i, item := range n.items {
		var one strings.Builder
		item.write(&one, 0)
		wide := utf8.RuneCountInString(one.String()) + len(", ")
		switch {
		case i == 0:
		case item.kind == list && column+wide > savedWidth:
			b.WriteString(",\n" + indent)
			column = len(indent)
		default:
			b.WriteString(", ")
		}
		b.WriteString(one.String())
		column += wide
	}
	b.WriteString("]")
}

// tomlText writes a text as TOML: as it stands between single quotes where it holds double ones, else between double
// quotes, with escapes where it needs them.
func tomlText(s string) string {
	control := strings.IndexFunc(s, func(r rune) bool { return r < ' ' || r == 0x7f }) >= 0
	if !control && strings.Contains(s, `"`) && !strings.Contains(s, "'") {
		return "'" + s + "'"
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteRune('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
