package setupfile

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"locksweep/geometry/setup"
)

// step is one part of a path: a key, the name of a list's element, or an index from 0.
type step struct {
	name    string
	index   int
	indexed bool
}

func (s step) String() string {
	if s.indexed {
		return "[" + strconv.Itoa(s.index) + "]"
	}
	return setup.QuoteKey(s.name)
}

// edit sets one key of a tree, or takes it away.
type edit struct {
	path []step
	at   place // of the path
	val  *node
}

// removes reports whether the edit takes its key away: an empty text, which no key can have for a value.
func (e edit) removes() bool { return e.val.kind == text && e.val.str == "" }

// SplitSet cuts a --set argument "key=value" at its first equals sign outside quotes.
func SplitSet(arg string) (key, value string, ok bool) {
	quote := byte(0)
	for i := 0; i < len(arg); i++ {
		switch c := arg[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"', c == '\'':
			quote = c
		case c == '=':
			return strings.TrimSpace(arg[:i]), strings.TrimSpace(arg[i+1:]), true
		}
	}
	return "", "", false
}

// parsePath reads a path such as arm.pickup[1] or part."stop lug".grind. Names may hold spaces without quotes, since a
// shell takes quotes away. The error text is empty where the path is sound.
func parsePath(s string) (path []step, wrong string) {
	const example = `; a key looks like arm.pickup, arm.pickup[1] or part."stop lug".grind`
	for rest := s; ; {
		if len(path) >= maxNesting {
			return nil, "has too many parts" + example
		}
		var name string
		if name, rest, wrong = cutName(strings.TrimLeft(rest, " ")); wrong != "" {
			return nil, wrong + example
		}
		path = append(path, step{name: name})
		for strings.HasPrefix(rest, "[") && len(path) < maxNesting {
			digits, after, closed := strings.Cut(rest[1:], "]")
			if !closed {
				return nil, "] is missing" + example
			}
			n, err := strconv.ParseUint(strings.TrimSpace(digits), 10, 31)
			if err != nil {
				return nil, "an index is a number from 0" + example
			}
			path, rest = append(path, step{index: int(n), indexed: true}), after
		}
		if rest == "" {
			return path, ""
		}
		if rest[0] != '.' {
			return nil, "a point is missing between names" + example
		}
		rest = rest[1:]
	}
}

// cutName takes a name, in quotes or up to the next point or bracket, from the front of s.
func cutName(s string) (name, rest, wrong string) {
	if s != "" && (s[0] == '"' || s[0] == '\'') {
		name, rest, closed := strings.Cut(s[1:], s[:1])
		if !closed {
			return "", "", "a quote is not closed"
		}
		return name, rest, ""
	}
	end := strings.IndexAny(s+".", `.[]"'`)
	if name = strings.TrimSpace(s[:end]); name == "" {
		return "", "", "a name is missing"
	}
	return name, s[end:], ""
}

// pathString writes a path as it is given.
func pathString(path []step) string {
	var b strings.Builder
	for i, s := range path {
		if i > 0 && !s.indexed {
			b.WriteByte('.')
		}
		b.WriteString(s.String())
	}
	return b.String()
}

// apply returns the tree with the edit made. The tree itself stays as it is.
func (e edit) apply(root *node) (*node, *Error) {
	if first := e.path[0].name; first == "variant" || first == "locksweep" {
		return nil, e.at.error(pathString(e.path), "cannot be set from outside")
	}
	root = e.inherit(root)
	out, wrong := root.set(e.path, 0, e)
	if wrong != "" {
		return nil, e.at.error(pathString(e.path), wrong)
	}
	return out, nil
}

// inherit copies a list of the left corner to the right one, where an edit means an element of a list
// that the right corner has not of its own.
func (e edit) inherit(root *node) *node {
	if len(e.path) < 4 || e.path[0].name != "right" || e.path[1].name != "arm" { // no other corner table holds lists
		return root
	}
	left, own := root, root.get("right")
	for i := 1; i < len(e.path)-1 && !e.path[i].indexed; i++ {
		left, own = left.get(e.path[i].name), own.get(e.path[i].name)
		if own == nil && left != nil && left.kind == list {
			copied := edit{path: e.path[:i+1], at: e.at, val: left}
			if out, wrong := root.set(copied.path, 0, copied); wrong == "" {
				return out
			}
		}
	}
	return root
}

// set returns the value n, which stands at path[:depth], with e.val put at the rest of the path. A table set upon a
// table is merged into it. n is nil where nothing is there yet.
func (n *node) set(path []step, depth int, e edit) (out *node, wrong string) {
	if depth == len(path) {
		switch {
		case e.removes() && n == nil:
			return nil, "is not in the file, so it cannot be taken away"
		case e.removes():
			return nil, ""
		}
		if n != nil && n.kind == branch && e.val.kind == branch {
			return n.merge(e.val, false), ""
		}
		return e.val, ""
	}
	next := path[depth]
	here := pathString(path[:depth])
	switch {
	case n == nil && next.indexed:
		return nil, fmt.Sprintf("%s is not in the file, so one element of it cannot be set; give the whole list", here)
	case n == nil:
		n = &node{kind: branch, birth: dotted, at: e.at}
	case n.kind == list:
		return n.setItem(path, depth, e)
	case n.kind == text && next.indexed:
		return nil, fmt.Sprintf("%s names a hole, so it has no single co-ordinate; set one of the hole's, such as %s.holes.%s.at[1], or give %s as a list first",
			here, pathString(path[:depth-1]), setup.QuoteKey(n.str), here)
	case n.kind != branch:
		return nil, fmt.Sprintf("%s is %v and has no parts", here, n.kind)
	case next.indexed:
		return nil, fmt.Sprintf("%s is a table; name one of its keys instead of an index", here)
	}
	child, wrong := n.get(next.name).set(path, depth+1, e)
	switch {
	case wrong != "":
		return nil, wrong
	case child == nil:
		return n.without(next.name), ""
	}
	return n.with(field{name: next.name, at: e.at, val: child}), ""
}

// setItem is set for the element of a list, by index or by name.
func (n *node) setItem(path []step, depth int, e edit) (out *node, wrong string) {
	next := path[depth]
	i := next.index
	if !next.indexed {
		if i = n.named(next.name); i < 0 {
			var names []string
			for _, item := range n.items {
				names = append(names, item.called())
			}
			hint := didYouMean(next.name, names)
			return nil, fmt.Sprintf("%s has no element named %s%s", pathString(path[:depth]), quoted(next.name), hint)
		}
	}
	if i >= len(n.items) {
		return nil, fmt.Sprintf("%s has %d elements, counted from 0", pathString(path[:depth]), len(n.items))
	}
	item, wrong := n.items[i].set(path, depth+1, e)
	if wrong != "" {
		return nil, wrong
	}
	c := *n
	c.items = append([]*node(nil), n.items...)
	if item == nil {
		c.items = slices.Delete(c.items, i, i+1)
	} else {
		c.items[i] = item
	}
	return &c, ""
}

// named returns the index of the table in the list whose name is the given one, or -1.
func (n *node) named(name string) int {
	return slices.IndexFunc(n.items, func(item *node) bool { return item.called() == name })
}

// called is the name of a table in a list; empty where it has none.
func (n *node) called() string {
	if v := n.get("name"); v != nil && v.kind == text {
		return v.str
	}
	return ""
}
