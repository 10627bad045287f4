package setupfile

import "slices"

// kind is what a value is, in the words of the messages.
type kind uint8

const (
	number kind = iota
	text
	boolean
	date
	list
	branch // a table
)

func (k kind) String() string {
	return [...]string{"a number", "text", "true or false", "a date", "a list", "a table"}[k]
}

// birth is how a table or list of tables came about. TOML allows each to be extended in its own way only.
type birth uint8

const (
	closed   birth = iota // a value: { … } or [ … ]; never extended
	implicit              // a step of a longer [header]
	headed                // its own [header], or [[header]] for a list
	dotted                // a step of a dotted key
)

// node is one value of the file. After parsing nodes are never changed: what sets a value
// builds new tables along its path and shares the rest.
type node struct {
	kind   kind
	birth  birth
	at     place
	num    float64
	str    string // decoded text, or the number as written
	items  []*node
	fields []field
	index  map[string]int // names to fields, once there are many
}

type field struct {
	name  string
	at    place
	val   *node
	right bool // comes from under right.
}

// find returns the position of a key in the table, or -1.
func (n *node) find(name string) int {
	if n.index == nil {
		return slices.IndexFunc(n.fields, func(f field) bool { return f.name == name })
	}
	if i, ok := n.index[name]; ok {
		return i
	}
	return -1
}

// get returns the value of a key; nil where there is none, or no table.
func (n *node) get(name string) *node {
	if n != nil {
		if i := n.find(name); i >= 0 {
			return n.fields[i].val
		}
	}
	return nil
}

// holds reports whether a node is another one or has it somewhere in it.
func (n *node) holds(other *node) bool {
	return n == other || slices.ContainsFunc(n.fields, func(f field) bool { return f.val.holds(other) }) ||
		slices.ContainsFunc(n.items, func(item *node) bool { return item.holds(other) })
}

// add appends a key that is not there yet.
func (n *node) add(f field) {
	n.fields = append(n.fields, f)
	switch {
	case n.index != nil:
		n.index[f.name] = len(n.fields) - 1
	case len(n.fields) > 16:
		n.reindex()
	}
}

func (n *node) reindex() {
	n.index = make(map[string]int, 2*len(n.fields))
	for i := range n.fields {
		n.index[n.fields[i].name] = i
	}
}

// put gives one key of the table a field, in its place if the key is there already.
func (n *node) put(f field) {
	if i := n.find(f.name); i >= 0 {
		n.fields[i] = f
		return
	}
	n.add(f)
}

// copied returns a copy of the table whose fields may be changed.
func (n *node) copied(room int) *node {
	c := *n
	c.fields = append(make([]field, 0, len(n.fields)+room), n.fields...)
	if c.index != nil {
		c.reindex()
	}
	return &c
}

// with returns a copy of the table in which one key has the given field.
func (n *node) with(f field) *node {
	c := n.copied(1)
	c.put(f)
	return c
}

// without returns a copy of the table that lacks a key.
func (n *node) without(name string) *node {
	c := n.copied(0)
	c.fields = slices.DeleteFunc(c.fields, func(f field) bool { return f.name == name })
	if c.index != nil {
		c.reindex()
	}
	return c
}

// merge returns the table with another laid over it: keys of over win, tables are merged in turn.
// Where right is set the fields that come from over are marked so.
func (n *node) merge(over *node, right bool) *node {
	out := n.copied(len(over.fields))
	for _, f := range over.fields {
		f.right = f.right || right
		if f.val.kind == branch {
			under := n.get(f.name)
			if under == nil || under.kind != branch {
				under = &node{kind: branch, at: f.val.at}
			}
			f.val = under.merge(f.val, right)
		}
		out.put(f)
	}
	return out
}
