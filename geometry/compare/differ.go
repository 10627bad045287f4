package compare

import (
	"math"
	"slices"
	"strings"

	"locksweep/geometry/setup"
)

// Difference is a measure of two setups that is not the same.
type Difference struct {
	Key      string // as --set takes it
	Quantity setup.Quantity
	Point    int       // figures of one point
	List     bool      // a list of points
	From, To []float64 // mm or radians
	Words    [2]string // before and after, of Words
	Gone     bool      // the setup has it no longer; Key is that of a whole part or hole
	New      bool      // it has it only now
	Later    bool      // of a part of the frame that [change] then cuts or moves
}

// same is by how much a figure may differ that a file was written with and read again, mm or radians.
const same = 1e-9

// Differ lists everything in which a setup differs from another, each by its key. A corner that is changed alike on
// both sides is listed once, so are rods and pins. Spindles, drop arms and parts of the frame are looked at as they were before [change]:
// what that did stands in Setup.Changes.
func Differ(from, to *setup.Setup) (list []Difference) {
	a, b := from.AsHung().Measures(), to.AsHung().Measures()
	before, after := byKey(a), byKey(b)
	for i := range a {
		m, ok := after[a[i].Key]
		if !ok {
			list = absent(list, a[i].Key, true)
		} else if d := difference(&a[i], m); d != nil {
			list = append(list, *d)
		}
	}
	for i := range b {
		if before[b[i].Key] == nil {
			list = absent(list, b[i].Key, false)
		}
	}
	for i := range list {
		list[i].Later = cutLater(to.Frame, list[i].Key)
	}
	return tidy(list)
}

// cutLater reports whether a measure is of a part of the frame that [change] then cuts or moves.
func cutLater(c *setup.FrameCut, key string) bool {
	if c == nil {
		return false
	}
	return slices.ContainsFunc(c.Parts, func(p setup.PartCut) bool {
		return p.Moved() && strings.HasPrefix(key, "part."+setup.QuoteKey(p.Name)+".")
	})
}

// byKey finds measures by their keys.
func byKey(list []setup.Measure) map[string]*setup.Measure {
	of := make(map[string]*setup.Measure, len(list))
	for i := range list {
		of[list[i].Key] = &list[i]
	}
	return of
}

// difference is what differs between two measures of one key; nil where both say the same.
func difference(a, b *setup.Measure) *Difference {
	d := Difference{Key: a.Key, Quantity: a.Quantity, Point: a.Point, List: a.List, Words: [2]string{a.Word, b.Word}}
	for _, f := range a.Figures {
		d.From = append(d.From, *f)
	}
	for _, f := range b.Figures {
		d.To = append(d.To, *f)
	}
	if near(d.From, d.To) && a.Word == b.Word {
		return nil
	}
	return &d
}

// absent adds a part, a hole or a shape that only one of the setups has, once for all its measures.
func absent(list []Difference, key string, gone bool) []Difference {
	if n := len(list); n > 0 && (list[n-1].Gone || list[n-1].New) && strings.HasPrefix(key, list[n-1].Key+".") {
		return list
	}
	return append(list, Difference{Key: owner(key), Gone: gone, New: !gone})
}

// owner cuts the last name off a key. No name of a measure holds a point; that of a part or hole may.
func owner(key string) string { return key[:strings.LastIndexByte(key, '.')] }

// tidy says once what both corners, both rods or both pins have in common.
func tidy(list []Difference) (out []Difference) {
	const right = "right."
	used := map[string]bool{}
	both := map[string]string{"tie_rod.left": "tie_rod.length", "drop_arm.left": "drop_arm.pin", "drop_arm.left_bolt": "drop_arm.bolt"}
	for i := range list {
		d := &list[i]
		twin, one := right+d.Key, d.Key
		if both[d.Key] != "" {
			twin, one = strings.Replace(d.Key, ".left", ".right", 1), both[d.Key]
		}
		for _, other := range list {
			if other.Key == twin && d.like(&other) {
				used[twin], d.Key = true, one
			}
		}
	}
	for _, d := range list {
		if !used[d.Key] {
			out = append(out, d)
		}
	}
	return out
}

// like reports whether two differences say the same but for their keys.
func (d *Difference) like(o *Difference) bool {
	return d.Words == o.Words && d.Gone == o.Gone && d.New == o.New && near(d.From, o.From) && near(d.To, o.To)
}

func near(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Abs(x-y) <= same })
}

// Moved returns how many points of a list differ and how far the one that moved most went; ok is false where the lists
// are not equally long.
func (d *Difference) Moved() (points int, furthest float64, ok bool) {
	if len(d.From) != len(d.To) {
		return 0, 0, false
	}
	for i := 0; i < len(d.From); i += d.Point {
		sum := 0.0
		for k := i; k < i+d.Point; k++ {
			sum += (d.To[k] - d.From[k]) * (d.To[k] - d.From[k])
		}
		if far := math.Sqrt(sum); far > same {
			points, furthest = points+1, max(furthest, far)
		}
	}
	return points, furthest, true
}
