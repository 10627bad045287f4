package report

import (
	"strconv"
	"strings"

	"locksweep/geometry/compare"
	"locksweep/render/wording"
)

// Varied returns the table of a comparison whose entries are one setup with one value, or two, varied: the figures
// of the given keys by value, or for two values a map of each figure. Entries are in the order of the
// first axis, and for each value of it in the order of the second.
func Varied(c *compare.Comparison, axes []compare.Axis, keys []string, opt CompareOptions) []byte {
	p := &page{colour: opt.Colour}
	t := &comparison{page: p, c: c, unit: opt.Unit}
	names := make([]string, len(axes))
	for i, a := range axes {
		names[i] = a.Key
	}
	p.title("Varied: " + strings.Join(names, " and "))
	name := func(i int) string {
		if len(axes) == 1 {
			return wording.Bare(axes[0].Values[i])
		}
		return c.Entries[i].Name
	}
	t.alarms(name)
	for _, a := range axes {
		p.row("Values", elide(a.Key, width-labelIs-20)+" "+wording.AsInFile(opt.Unit, a.Quantity))
	}
	p.row("Figures", "degrees and "+wording.SpelledUnit(opt.Unit)+"; the worse of left and right; * best; - no such figure")
	p.row("Slides", "on a path of "+wording.Path(opt.Unit, c.Path)+"; at the rear axle's middle")
	if t.unsound() {
		p.row("", "! not sound: no star for such a value, nor for one without figures")
	}
	if len(axes) == 1 {
		t.byValue(axes[0], keys)
	} else {
		for _, key := range keys {
			t.chart(wording.FigureNamed(key), axes)
		}
	}
	t.failures()
	t.verdicts(name, -1)
	p.caution()
	return p.Bytes()
}

// byValue writes a row a value.
func (t *comparison) byValue(a compare.Axis, keys []string) {
	t.line("", "")
	rows := make([][]string, len(a.Values))
	for i, v := range a.Values {
		rows[i] = []string{wording.Bare(v)}
		if e := &t.c.Entries[i]; e.Result != nil && !e.Sound() {
			rows[i][0] += " !"
		}
	}
	heads := []string{elide(a.Key, 13)}
	for _, key := range keys {
		row := t.c.Find(key)
		heads = append(heads, wording.FigureNamed(key).Brief)
		values, best := row.Worse()
		for i, v := range values {
			rows[i] = append(rows[i], marked(wording.Compared(t.unit, row.Kind, v), best[i], row.Fails[i][0] || row.Fails[i][1]))
		}
	}
	t.grid(heads, rows)
}

// chart writes the map of one figure: the first value down, the second across.
func (t *comparison) chart(n wording.Named, axes []compare.Axis) {
	row := t.c.Find(n.Key)
	values, best := row.Worse()
	t.heading(elide(wording.InUnit(n.Title, wording.FigureUnit(t.unit, row.Kind))+": "+axes[0].Key+" down, "+axes[1].Key+" across", width))
	across := len(axes[1].Values)
	for from := 0; from < across; from += mostAcross {
		to := min(from+mostAcross, across)
		heads := []string{""}
		for _, v := range axes[1].Values[from:to] {
			heads = append(heads, wording.Bare(v)+" ")
		}
		var rows [][]string
		for i, v := range axes[0].Values {
			cells := []string{wording.Bare(v)}
			for k := from; k < to; k++ {
				at := i*across + k
				cells = append(cells, marked(wording.Compared(t.unit, row.Kind, values[at]), best[at], row.Fails[at][0] || row.Fails[at][1]))
			}
			rows = append(rows, cells)
		}
		if from > 0 {
			t.line("", "")
		}
		t.grid(heads, rows)
	}
}

// mostAcross is how many values of the second axis stand beside each other.
const mostAcross = 9

// grid writes rows below heads of up to two words a line, right-aligned in columns as wide as the page allows.
func (t *comparison) grid(heads []string, rows [][]string) {
	const first = 14
	each := min((width-first)/max(len(heads)-1, 1), 11)
	cells := func(attribute string, row []string) {
		t.line(attribute, beside(row[0], first, row[1:], func(int) int { return each }))
	}
	for n := 0; n < 3; n++ {
		some, row := false, make([]string, len(heads))
		for k, head := range heads {
			if lines := Wrap(head, max(each-1, 6)); k == 0 && n == 0 {
				row[k], some = head, true
			} else if k > 0 && n < len(lines) {
				row[k], some = lines[n]+" ", true
			}
		}
		if some {
			cells(bold, row)
		}
	}
	for _, row := range rows {
		cells("", row)
	}
}

// failures says why values give no figures, each reason once.
func (t *comparison) failures() {
	reasons, at := t.grouped(func(e *compare.Entry) string {
		if e.Err == nil {
			return ""
		}
		return wording.Error(e.Err).Error()
	})
	if len(reasons) > 0 {
		t.heading("No figures")
	}
	for i, why := range reasons {
		if i == mostReasons {
			t.item("", "and "+strconv.Itoa(len(reasons)-i)+" reasons more")
			break
		}
		said := t.c.Entries[at[why][0]].Name
		if more := len(at[why]) - 1; more > 0 {
			said += " and " + strconv.Itoa(more) + " more"
		}
		t.item("", said+": "+why)
	}
}

// mostReasons is how many reasons are listed.
const mostReasons = 5
