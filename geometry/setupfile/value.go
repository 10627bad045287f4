package setupfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/golang/geo/r2"
	"github.com/golang/geo/r3"
	"github.com/golang/geo/s1"

	"locksweep/geometry/setup"
)

// value is a key with its value; n is nil where the file has none. Its path is put together only for messages.
type value struct {
	d     *decoder
	n     *node
	under string // path of the table, or of the list that it is an element of, without right.
	home  string // path of the table without names and indices
	name  string
	index int    // in a list; -1 for a key of a table
	own   bool   // stands under right.
	as    string // the path to call it by instead, where that is another
	at    place  // of the value, or of the table that lacks it
}

// path is the value's path without right.
func (v value) path() string {
	switch {
	case v.as != "":
		return v.as
	case v.index >= 0:
		return v.under + "[" + strconv.Itoa(v.index) + "]"
	}
	return joinPath(v.under, v.name)
}

// key is the value's path for messages.
func (v value) key() string {
	if v.own {
		return "right." + v.path()
	}
	return v.path()
}

// joinPath puts a key after the path of its table.
func joinPath(under, name string) string {
	if under == "" {
		return setup.QuoteKey(name)
	}
	return under + "." + setup.QuoteKey(name)
}

// given reports whether the file has the value.
func (v value) given() bool { return v.n != nil }

// written is the text or the number as the file has it; empty where it has none.
func (v value) written() string {
	if v.n == nil {
		return ""
	}
	return v.n.str
}

func (v value) fail(format string, args ...any) {
	said := fmt.Sprintf(format, args...)
	if v.d.side == setup.Right && !v.own {
		said = "on the right corner: " + said
		for _, e := range v.d.errs {
			if e.Key == v.key() && "on the right corner: "+e.Text == said {
				return // said for the left corner already
			}
		}
	}
	v.d.fail(v.at, v.key(), "%s", said)
}

// warn notes a suspicion about the value.
func (v value) warn(code, format string, args ...any) {
	w := Warning{Code: code, Line: v.at.lineNumber(), Key: v.key(), Text: fmt.Sprintf(format, args...), at: v.at}
	if v.at.doc != nil {
		w.Source = v.at.doc.source
	}
	if v.d.warned[w] {
		return
	}
	if v.d.warned == nil {
		v.d.warned = map[Warning]bool{}
	}
	v.d.warned[w] = true
	v.d.warnings = append(v.d.warnings, w)
}

// is reports whether the value is there and of the kind; a value of another kind is an error.
func (v value) is(k kind) bool {
	if v.n == nil {
		return false
	}
	if v.n.kind == k {
		return true
	}
	if k == number && v.n.kind == text {
		v.fail("is text, should be a number%s", bareNumber(v.n.str, v.d.unit))
		return false
	}
	v.fail("is %v, should be %v", v.n.kind, k)
	return false
}

// lengthUnits are the units that people write behind a length, and whether a file may be in them.
var lengthUnits = map[string]string{
	"mm": "mm", "in": "in", "inch": "in", "inches": "in", "\"": "in", "″": "in", "”": "in", "cm": "", "m": "", "ft": "", "'": "",
}

// bareNumber says how to write the number that a text begins with, in a file in a unit.
func bareNumber(s string, u setup.Unit) string {
	s = strings.TrimSpace(s)
	if unit, length := lengthUnits[strings.ToLower(strings.TrimLeft(s, "+-0123456789., /"))]; length && unit != u.String() {
		return ", in " + u.String() + " like the whole file, without quotes or unit"
	}
	i := 0
	for i < len(s) && strings.IndexByte("+-0123456789.", s[i]) >= 0 {
		i++
	}
	if comma := strings.Replace(s, ",", ".", 1); comma != s {
		if _, err := strconv.ParseFloat(comma, 64); err == nil {
			return ": decimals take a point, " + elide(comma)
		}
	}
	if decimal, ok := fraction(strings.TrimRight(s, "\"″” in")); ok {
		return ": write " + decimal + ", without quotes"
	}
	if _, err := strconv.ParseFloat(s[:i], 64); err != nil || strings.Contains(s, "/") {
		return ", without quotes"
	}
	return ": write " + elide(strings.TrimPrefix(s[:i], "+")) + ", without quotes or unit"
}

// rule is what a number must fulfil: where holds is false, the message ends in what.
type rule struct {
	holds func(x float64) bool
	what  string
}

var (
	positive    = rule{func(x float64) bool { return x > 0 }, "must be more than 0"}
	notNegative = rule{func(x float64) bool { return x >= 0 }, "must not be negative"}
	acute       = rule{func(x float64) bool { return math.Abs(x) < 90 }, "must be less than 90 degrees"}
)

// between accepts from lo to hi, both included; the unit goes into the message.
func between(lo, hi float64, unit string) rule {
	return rule{func(x float64) bool { return x >= lo && x <= hi }, fmt.Sprintf("must be from %g to %g%s", lo, hi, unit)}
}

const (
	maxLength   = 100e3 // mm; no small vehicle is longer than 100 m
	leastLength = 1e-3  // mm, for sizes that cannot be zero
	// leastNumber is far below any measurement and far above where squares vanish.
	leastNumber = 1e-30
)

// among reads a text that is one of the names and returns its index; -1 where it is missing or another. Should is what a message
// says it should be.
func (v value) among(should string, names ...string) int {
	if !v.is(text) {
		return -1
	}
	i := slices.Index(names, v.n.str)
	if i < 0 {
		v.fail("is %s, should be %s", quoted(v.n.str), should)
	}
	return i
}

// number reads a finite number that fulfils the rules, NaN otherwise.
func (v value) number(rules ...rule) float64 {
	if !v.is(number) {
		return math.NaN()
	}
	x := v.n.num
	switch {
	case math.IsNaN(x) || math.IsInf(x, 0):
		v.fail("is not a finite number")
		return math.NaN()
	case x != 0 && math.Abs(x) < leastNumber:
		v.fail("is too small to mean anything; write 0")
		return math.NaN()
	}
	for _, r := range rules {
		if !r.holds(x) {
			v.fail("is %s, %s", elide(v.n.str), r.what)
			return math.NaN()
		}
	}
	return x
}

// length reads a length in the file's unit; mm, NaN where it is missing or wrong.
func (v value) length(rules ...rule) float64 {
	mm := v.d.unit.ToMM(v.number(rules...))
	if math.Abs(mm) > maxLength {
		v.fail("is %s %v, more than 100 m; check the number and units", elide(v.n.str), v.d.unit)
		return math.NaN()
	}
	return mm
}

// size reads a length that must be more than 0.
func (v value) size() float64 {
	mm := v.length(positive)
	if mm < leastLength {
		v.fail("is too small: less than 0.001 mm")
		return math.NaN()
	}
	return mm
}

func (v value) angle(rules ...rule) s1.Angle {
	return s1.Angle(v.number(rules...)) * s1.Degree
}

// or returns the number, or a default where the file has none. A wrong number stays NaN.
func (v value) or(read float64, def float64) float64 {
	if v.n == nil {
		return def
	}
	return read
}

// sizeOr, lengthOr, numberOr and angleOr read a value that may be left out: a default stands for it then.
func (v value) sizeOr(def float64) float64                  { return v.or(v.size(), def) }
func (v value) lengthOr(def float64, rules ...rule) float64 { return v.or(v.length(rules...), def) }
func (v value) numberOr(def float64, rules ...rule) float64 { return v.or(v.number(rules...), def) }
func (v value) angleOr(def s1.Angle, rules ...rule) s1.Angle {
	return s1.Angle(v.or(float64(v.angle(rules...)), float64(def)))
}

func (v value) text() string {
	if !v.is(text) {
		return ""
	}
	if strings.TrimSpace(setup.Printable(v.n.str)) == "" {
		v.fail("is empty")
	}
	return v.n.str
}

// flag reads true or false; false where it is missing.
func (v value) flag() bool { return v.is(boolean) && v.n.str == "true" }

func (v value) items() []value {
	if !v.is(list) {
		return nil
	}
	out, path := make([]value, len(v.n.items)), v.path()
	for i, item := range v.n.items {
		out[i] = value{d: v.d, n: item, at: item.at, own: v.own, under: path, home: v.home, name: v.name, index: i}
	}
	return out
}

// lengths reads a list of just as many lengths as it has names, mm; all are NaN where it, or one of them, is missing or wrong.
func (v value) lengths(names ...string) []float64 {
	read := make([]float64, len(names))
	switch {
	case !v.is(list):
		read[0] = math.NaN()
	case len(v.n.items) != len(names):
		comma := oneOf(len(v.n.items) == 2*len(names), " (decimals take a point, not a comma)", "")
		v.fail("has %s, should be [%s]%s", counted(len(v.n.items), "number"), strings.Join(names, ", "), comma)
		read[0] = math.NaN()
	default:
		for i, item := range v.items() {
			read[i] = item.length()
		}
	}
	if slices.ContainsFunc(read, math.IsNaN) {
		return slices.Repeat([]float64{math.NaN()}, len(names))
	}
	return read
}

func oneOf(first bool, a, b string) string {
	if first {
		return a
	}
	return b
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// What messages call the three co-ordinates of a point, by the axes that it is given in.
var (
	vehicleNames = []string{"x", "y", "z"}
	cornerNames  = []string{"forward", "outboard", "up"}
	columnNames  = []string{"down", "left", "along"}
	rodNames     = []string{"along the rod", "forward", "up"}
)

// point reads three co-ordinates, mm; all NaN where they are missing or wrong.
func (v value) point(names []string) r3.Vector {
	x := v.lengths(names...)
	return r3.Vector{X: x[0], Y: x[1], Z: x[2]}
}

// planePoint reads the first two co-ordinates of what names has, mm; both NaN where they are missing or wrong.
func (v value) planePoint(names []string) r2.Point {
	x := v.lengths(names[:2]...)
	return r2.Point{X: x[0], Y: x[1]}
}

// edge reads two points that are not the same; nil where they are missing or wrong.
func (v value) edge(names []string) []r2.Point {
	items := v.items()
	if items == nil {
		return nil
	}
	if len(items) != 2 {
		one := "[" + strings.Join(names[:2], ", ") + "]"
		v.fail("has %s; an edge is given by its two ends, [%s, %s]", counted(len(items), "point"), one, one)
		return nil
	}
	ends := []r2.Point{items[0].planePoint(names), items[1].planePoint(names)}
	if ends[0].Sub(ends[1]).Norm() < leastEdge {
		v.fail("has the same point twice; give both ends of the edge")
	}
	return ends
}

// direction reads a vector of any length and returns its unit vector; zero where it is missing or has no length, NaN where it is wrong.
func (v value) direction(names []string) r3.Vector {
	if v.n == nil {
		return r3.Vector{}
	}
	p := v.point(names)
	if p.Norm() < 1e-9 {
		v.fail("has no direction: all three numbers are 0")
		return r3.Vector{}
	}
	return p.Normalize()
}

// faces reads [lower, upper], mm; both NaN where they are missing or wrong.
func (v value) faces() (lower, upper float64) {
	x := v.lengths("lower", "upper")
	switch {
	case x[0] == x[1]:
		v.fail("has both faces at the same height; metal has a thickness")
	case x[0] > x[1]:
		v.fail("has its faces swapped; the lower one comes first")
	}
	return x[0], x[1]
}
