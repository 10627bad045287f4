package setupfile

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"locksweep/geometry/setup"
)

const (
	maxNesting      = 16  // of lists and tables within one value
	maxErrors       = 500 // that are gathered from one file
	maxSyntaxErrors = 20
)

const tooDeep = "is nested too deeply; nothing in a setup file needs that"

// parser turns the expressions of a document into a tree, applying TOML's rule that nothing is
// defined twice.
type parser struct {
	doc  *document
	toml unstable.Parser
	base int // offset in doc of what toml was given
	root *node
	cur  *node  // table that keys go into
	path string // of cur
	end  int    // of the last expression that was understood
	errs Errors
}

// parse reads a whole document. After a syntax error it goes on at the next place where an
// expression can begin, so that one run shows all mistakes; the tree then lacks what was skipped.
func parse(doc *document) (*node, Errors) {
	p := &parser{doc: doc, root: &node{kind: branch, birth: headed, at: place{doc, 0, 0}}}
	p.cur = p.root
	for {
		p.toml.Reset(doc.data[p.base:])
		for p.toml.NextExpression() {
			p.expression(p.toml.Expression())
		}
		if p.toml.Error() == nil {
			return p.root, p.errs
		}
		at := p.syntax(p.toml.Error())
		p.base = p.resume(at)
		p.end = p.base
		if p.base == len(doc.data) || len(p.errs) >= maxSyntaxErrors {
			return p.root, p.errs
		}
	}
}

// syntax notes the parser's error in our words and returns its offset.
func (p *parser) syntax(err error) int {
	at, message := len(p.doc.data), err.Error()
	var pe *unstable.ParserError
	if errors.As(err, &pe) {
		at = p.base + int(p.toml.Range(pe.Highlight).Offset)
	}
	start := p.expressionStart()
	where, said := reword(p.doc.data, start, at, message)
	p.fail(p.doc.errorAt(where, "", said))
	return max(at, start)
}

// expressionStart returns where the expression after the last understood one begins.
func (p *parser) expressionStart() int { return skipTrivia(p.doc.data, p.end, "") }

func (p *parser) expression(e *unstable.Node) {
	keys, last := p.keys(e)
	switch e.Kind {
	case unstable.Table, unstable.ArrayTable:
		p.header(keys, e.Kind == unstable.ArrayTable)
		p.end = nextLine(p.doc.data, last)
	case unstable.KeyValue:
		var val *node
		val, p.end = p.keyValue(e.Value(), last, 0)
		p.assign(p.cur, p.path, keys, val)
	}
}

type key struct {
	name string
	at   place
}

// keys returns the steps of an expression's key and the offset after them.
func (p *parser) keys(e *unstable.Node) (steps []key, end int) {
	for it := e.Key(); it.Next(); {
		k := it.Node()
		start := p.base + int(k.Raw.Offset)
		end = start + int(k.Raw.Length)
		steps = append(steps, key{string(k.Data), place{p.doc, start, end}})
	}
	return steps, end
}

// keyValue converts the value that follows a key which ended at keyEnd.
func (p *parser) keyValue(v *unstable.Node, keyEnd, depth int) (*node, int) {
	at := skipBlank(p.doc.data, keyEnd) + 1 // the equals sign
	return p.value(v, skipBlank(p.doc.data, at), depth)
}

// value converts a value that begins at offset at and returns the offset after it. The parser gives no ranges for
// lists and tables: they are found by walking the text beside its nodes.
func (p *parser) value(v *unstable.Node, at, depth int) (*node, int) {
	if depth > maxNesting {
		p.fail(p.doc.errorAt(at, "", tooDeep))
		return &node{kind: list, at: place{p.doc, at, at}}, len(p.doc.data)
	}
	switch v.Kind {
	case unstable.Array:
		return p.list(v, at, depth)
	case unstable.InlineTable:
		return p.inlineTable(v, at, depth)
	}
	end := p.base + int(v.Raw.Offset+v.Raw.Length)
	n := &node{at: place{p.doc, at, end}, str: string(v.Data)}
	switch v.Kind {
	case unstable.String:
		n.kind = text
	case unstable.Bool:
		n.kind = boolean
	case unstable.Integer, unstable.Float:
		n.kind, n.num = number, parseNumber(n.str)
	default:
		n.kind = date
	}
	return n, end
}

func (p *parser) list(v *unstable.Node, at, depth int) (*node, int) {
	n := &node{kind: list}
	end := at + 1
	for it := v.Children(); it.Next(); {
		var item *node
		item, end = p.value(it.Node(), skipTrivia(p.doc.data, end, ","), depth+1)
		n.items = append(n.items, item)
	}
	end = min(skipTrivia(p.doc.data, end, ",")+1, len(p.doc.data))
	n.at = place{p.doc, at, end}
	return n, end
}

func (p *parser) inlineTable(v *unstable.Node, at, depth int) (*node, int) {
	n := &node{kind: branch, birth: headed}
	end := at + 1
	for it := v.Children(); it.Next(); {
		keys, last := p.keys(it.Node())
		var val *node
		val, end = p.keyValue(it.Node().Value(), last, depth+1)
		p.assign(n, "", keys, val)
	}
	end = min(skipTrivia(p.doc.data, end, ",")+1, len(p.doc.data))
	n.at = place{p.doc, at, end}
	n.close()
	return n, end
}

// close makes an inline table and the tables of its dotted keys final: nothing may be added to them later.
func (n *node) close() {
	n.birth = closed
	for _, f := range n.fields {
		if f.val.kind == branch && f.val.birth != closed {
			f.val.close()
		}
	}
}

// header makes the table that a [header] or [[header]] names the current one.
func (p *parser) header(keys []key, many bool) {
	at := p.root
	for i, k := range keys[:len(keys)-1] {
		next := at.get(k.name)
		switch {
		case next == nil:
			next = &node{kind: branch, birth: implicit, at: k.at}
			at.add(field{name: k.name, at: k.at, val: next})
		case next.kind == list && next.birth == headed:
			next = next.items[len(next.items)-1]
		case next.kind != branch || next.birth == closed:
			p.clash(at, keys[:i+1], "")
			next = &node{kind: branch}
		}
		at = next
	}
	last := keys[len(keys)-1]
	p.path = join(keys)
	p.cur = &node{kind: branch, birth: headed, at: last.at}
	old := at.get(last.name)
	switch {
	case old == nil && many:
		at.add(field{name: last.name, at: last.at, val: &node{kind: list, birth: headed, at: last.at, items: []*node{p.cur}}})
	case old == nil:
		at.add(field{name: last.name, at: last.at, val: p.cur})
	case many && old.kind == list && old.birth == headed:
		old.items = append(old.items, p.cur)
	case !many && old.kind == branch && old.birth == implicit:
		old.birth, old.at = headed, last.at
		p.cur = old
	default:
		p.clash(at, keys, "")
	}
}

// assign puts a value under a dotted key of a table.
func (p *parser) assign(at *node, path string, keys []key, val *node) {
	for i, k := range keys[:len(keys)-1] {
		next := at.get(k.name)
		switch {
		case next == nil:
			next = &node{kind: branch, birth: dotted, at: k.at}
			at.add(field{name: k.name, at: k.at, val: next})
		case next.kind != branch || next.birth != dotted:
			p.clash(at, keys[:i+1], path)
			return
		}
		at = next
	}
	last := keys[len(keys)-1]
	if at.get(last.name) != nil {
		p.clash(at, keys, path)
		return
	}
	at.add(field{name: last.name, at: last.at, val: val})
}

// clash reports that the last of keys is in the table already.
func (p *parser) clash(at *node, keys []key, path string) {
	last := keys[len(keys)-1]
	first := at.fields[at.find(last.name)].at
	name := join(keys)
	if path != "" {
		name = path + "." + name
	}
	said := "is given twice; keep one of them"
	if line := first.lineNumber(); line > 0 {
		said = fmt.Sprintf("is given twice, first in line %d; keep one of them", line)
	}
	p.fail(last.at.error(name, said))
}

// fail notes an error, as long as there are fewer than maxErrors.
func (p *parser) fail(e *Error) {
	if len(p.errs) < maxErrors {
		p.errs = append(p.errs, e)
	}
}

func join(keys []key) string {
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = setup.QuoteKey(k.name)
	}
	return strings.Join(names, ".")
}

// parseNumber reads a number that the parser has accepted. Out of range it is infinite.
func parseNumber(s string) float64 {
	s = strings.ReplaceAll(s, "_", "")
	if len(s) > 1 && s[0] == '0' && strings.ContainsRune("xob", rune(s[1])) {
		u, err := strconv.ParseUint(s, 0, 64)
		if err != nil {
			return math.Inf(1)
		}
		return float64(u)
	}
	x, _ := strconv.ParseFloat(s, 64)
	return x
}

// skipBlank returns the offset of the first byte from i on that is neither space nor tab.
func skipBlank(data []byte, i int) int {
	for i < len(data) && (data[i] == ' ' || data[i] == '\t') {
		i++
	}
	return i
}

// skipTrivia returns the offset of the first byte from i on that is no space, line break, comment
// or one of the bytes in also.
func skipTrivia(data []byte, i int, also string) int {
	for i < len(data) {
		switch c := data[i]; {
		case c == '#':
			for i < len(data) && data[i] != '\n' {
				i++
			}
		case c == ' ', c == '\t', c == '\n', c == '\r', strings.IndexByte(also, c) >= 0:
			i++
		default:
			return i
		}
	}
	return i
}
