// Package report lays out the results of a sweep as a text of at most 80 columns that begins with the
// answer: how far each wheel turns and what stops it. It computes nothing.
package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/golang/geo/s1"

	"locksweep/geometry/clearance"
	"locksweep/geometry/linkage"
	"locksweep/geometry/road"
	"locksweep/geometry/setup"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/geometry/tolerance"
	"locksweep/render/wording"
)

// Options is what a report shows besides its result.
type Options struct {
	Variant  string
	Set      []string            // changes of the setup from the command line
	Warnings []setupfile.Warning // of the file
	Sure     *tolerance.Result   // by how much figures of the setup as it stands may be off; nil: not asked
	Colour   bool                // for a terminal
	Rows     []Row               // of a sweep's table of poses
	Path     road.Slide          // of a sweep's slides; without a radius the usual one
}

// Row is a pose of the table; Pose is nil where the linkage does not get to the column angle.
type Row struct {
	Column   s1.Angle
	Pose     *sweep.Pose
	PastLock bool // the steering wheel is stopped before it gets there
}

// Sweep returns the report of a sweep.
func Sweep(r *sweep.Result, opt Options) []byte {
	p := begin(r.Setup, opt, wording.Alarms(r.Model, &r.Locks))
	if p.warnings(r, opt.Warnings) {
		p.line("", "")
	}
	p.answer(r)
	if opt.Sure != nil {
		p.row("How sure", wording.HowSure(opt.Sure)+" (from [accuracy]; tolerance tells more)")
	}
	p.figures(r)
	p.rods(r)
	p.cutList(r.Setup)
	p.sliding(r, opt.Path)
	p.chain(r)
	p.near(r)
	p.poses(r, opt.Rows)
	p.assumed(r)
	p.caution()
	return p.Bytes()
}

// answer says how far the wheels turn, what stops them, and how true they run.
func (p *page) answer(r *sweep.Result) {
	for _, d := range sweep.Directions {
		p.row("Turned "+d.String(), p.known.Says("lock_inner", wording.Wheels(r, d)))
		where, what, _ := strings.Cut(wording.StoppedBy(r, d), ": ")
		p.row("", strings.TrimSuffix(p.known.Says(tolerance.LockColumn, where)+": "+what, ": "))
	}
	p.row("Sense", wording.Sense(r.Model))
	lines := wording.Ackermann(r)
	for _, l := range lines {
		p.row(l.Label, p.known.Says("ackermann_error_20", l.Text))
	}
	if len(lines) == 0 {
		p.row("Ackermann", "the wheels hardly turn")
		return
	}
	p.row("", "("+wording.AckermannTerms+")")
	for _, l := range wording.ToesOut(r) {
		p.row(l.Label, l.Text)
	}
}

// tilts says the greatest tilt of the rods at either end within the locks.
func tilts(r *sweep.Result) string {
	most := r.GreatestTilts()
	text := fmt.Sprintf("%s at a steering arm, %s at the %s", wording.Angle(most[linkage.AtArm]), wording.Angle(most[linkage.AtDropArm]), wording.Input(r.Model))
	limit := [2]s1.Angle{r.Linkage.Rods[0].Spec.End.Tilt, r.Linkage.Rods[1].Spec.End.Tilt}
	switch {
	case limit[0] == 0 && limit[1] == 0:
		return text + "; the rod ends' limit is not given"
	case limit[0] == limit[1]:
		return text + "; the rod ends bind at " + wording.Angle(limit[0])
	}
	if !r.Linkage.Rods[0].Sided {
		bind := func(rod int) string {
			if limit[rod] == 0 {
				return "that of the " + r.Linkage.Rods[rod].Name() + " is not given"
			}
			return "the " + r.Linkage.Rods[rod].Name() + "'s ends bind at " + wording.Angle(limit[rod])
		}
		return text + "; " + bind(0) + ", " + bind(1)
	}
	return text + "; the rod ends bind at " + both(wording.Angle(limit[0]), wording.Angle(limit[1]))
}

func (p *page) rods(r *sweep.Result) {
	u := r.Setup.Unit
	for i := range r.Linkage.Rods {
		spec := &r.Linkage.Rods[i]
		side := spec.To.Side()
		rod := r.Rods[side]
		text := p.known.Says("rod_length", wording.TapeLength(u, rod.Length)) + " centre to centre"
		if spec.Spec.Length == 0 {
			text += ", as the file's toe needs it (" + wording.Toe(rod.Toe) + " at centre)"
		} else {
			text += " as given: " + wording.Toe(rod.Toe) + " at centre"
			if rod.Length != rod.Derived && wording.Degrees(rod.Toe) != wording.Degrees(r.Setup.Corners[side].Wheel.Toe) {
				text += "; for " + wording.Toe(r.Setup.Corners[side].Wheel.Toe) + " " + wording.RodCure(r, side, "it")
			}
		}
		head := spec.Name()
		if spec.Sided {
			head = "rod, " + side.String()
		}
		p.row(wording.Capital(head), text)
	}
}

// mostChain is how many limits of a lock are listed; the machine-readable output holds all.
const mostChain = 6

// chain lists what stops the steering, and what would be next if that were taken away.
func (p *page) chain(r *sweep.Result) {
	if len(r.Locks[0].Chain) < 2 && len(r.Locks[1].Chain) < 2 {
		return
	}
	p.heading("What stops it, and what would be next (steering wheel, inner wheel)")
	for _, d := range sweep.Directions {
		chain := r.Locks[d].Chain
		for i := range chain {
			l := &chain[i]
			if i == mostChain {
				p.row(d.String(), fmt.Sprintf("and %d more", len(chain)-mostChain))
				break
			}
			wheel := "-"
			if pose, ok := r.Pose(l.Column); ok {
				wheel = p.known.Says("lock_inner", wording.Angle(pose.Turn.InnerSteer))
			}
			column := p.known.Says(tolerance.LockColumn, wording.Angle(l.Column.Abs()))
			p.row(fmt.Sprintf("%-5s %d.", d, i+1), fmt.Sprintf("%s, %s: %s", column, wheel, wording.Limit(r.Model, l)))
		}
	}
}

// near lists the pairs that come near each other within the lock.
func (p *page) near(r *sweep.Result) {
	if len(r.Near) == 0 {
		return
	}
	p.heading("Least gaps within the lock (wanted: " + r.Setup.Unit.Say(r.Setup.Limits.Clearance) + "; ! is less)")
	for _, g := range Gaps(r, p.known) {
		p.row(g.Gap, fmt.Sprintf("%s - %s, steering wheel at %s", g.Pair[0], g.Pair[1], g.Where))
	}
}

// Gap is a pair that comes near within the lock, in words.
type Gap struct {
	Gap   string // behind it ! where it is less than wanted
	Pair  [2]string
	Where string // the steering wheel's angle there
}

// Gaps are the pairs that come near each other within the lock, the nearest first.
func Gaps(r *sweep.Result, known wording.Known) (gaps []Gap) {
	list := slices.Clone(r.Near)
	slices.SortStableFunc(list, func(a, b clearance.Near) int {
		return cmp.Compare(math.Round(a.Gap*1e4), math.Round(b.Gap*1e4)) // mirror images in their own order, whatever the last bits say
	})
	for _, n := range list {
		a, b := wording.Pair(r.Model, n.Pair)
		gap := known.Says("least_gap", wording.Gap(r.Setup.Unit, n.Gap))
		switch {
		case stops(r, n.Pair):
			gap = "stop"
		case r.Setup.Limits.Tight(n.Gap):
			gap += " !"
		}
		gaps = append(gaps, Gap{gap, [2]string{a, b}, known.Says(tolerance.LockColumn, wording.Way(n.Column))})
	}
	return gaps
}

// stops reports whether a pair is what stops the steering at a lock.
func stops(r *sweep.Result, pair [2]int) bool {
	return slices.ContainsFunc(r.Locks[:], func(lock sweep.Lock) bool {
		first := lock.First()
		return first != nil && first.Kind == sweep.Contact && first.Pair == pair
	})
}

// poses is the table of poses.
func (p *page) poses(r *sweep.Result, rows []Row) {
	p.heading("Poses in degrees, left positive; lesser leverage; wheel per steering wheel")
	table := [][]string{
		{"steering", "left", "right", "ideal", "Acker-", "", "left", "right", "left", "right"},
		{"wheel", "wheel", "wheel", "inner", "mann", "%", "lever", "lever", "ratio", "ratio"},
	}
	past := false
	for _, row := range rows {
		past = past || row.PastLock && row.Pose != nil
		if row.Pose == nil {
			table = append(table, []string{wording.Degrees(row.Column), "the linkage does not get there"})
			continue
		}
		cells := append(row.Cells(r, p.known), wording.Ratio(row.Pose.Ratio[0]), wording.Ratio(row.Pose.Ratio[1]))
		if row.PastLock {
			cells[0] = "!" + cells[0]
		}
		table = append(table, cells)
	}
	p.table(table)
	if past {
		p.line("", "! past the lock: what stops the steering would have to go first")
	}
}

// Cells are the figures of a pose that is reached: steering wheel, left and right wheel, ideal inner wheel, the Ackermann error and its
// percentage, and of either wheel's rod the lesser leverage.
func (row *Row) Cells(r *sweep.Result, known wording.Known) []string {
	p := row.Pose
	wheel, off := known.At(row.Column)
	lever := func(s setup.Side) string {
		ends := p.Transmission[r.Linkage.Driver[s]]
		return wording.Degrees(min(ends[0], ends[1]))
	}
	return []string{wording.Degrees(row.Column), wheel(wording.Degrees(p.Wheels[0].Steer)), wheel(wording.Degrees(p.Wheels[1].Steer)),
		wheel(wording.Degrees(p.Turn.IdealInner)), off(wording.Signed(wording.Degrees(p.Turn.Error))), wording.PercentAt(p.LinkageSteer, p.Turn.Percent), lever(0), lever(1)}
}

// warnings lists right under the title what is to be looked at before any figure is trusted, and reports whether there is any.
func (p *page) warnings(r *sweep.Result, warnings []setupfile.Warning) bool {
	list := LookAt(r, warnings)
	if len(list) == 0 {
		return false
	}
	p.items(wording.Counted(len(list), "warning"), list)
	return true
}

// LookAt is, in this order, the figures of the file that much else may follow from, every pair that touches straight ahead, what is found of the vehicle, but for the alarms, which stand above, and
// what else is doubtful in the file.
func LookAt(r *sweep.Result, warnings []setupfile.Warning) (list []string) {
	first, rest := causes(warnings)
	list = append(list, first...)
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Code == sweep.Touching {
			list = append(list, wording.Finding(r, f))
		}
	}
	for i := range r.Findings {
		if f := &r.Findings[i]; !f.Code.Alarm() && f.Code != sweep.RodLength {
			list = append(list, wording.Finding(r, f))
		}
	}
	list = append(list, wording.RodsLength(r)...)
	for _, w := range rest {
		list = append(list, w.String())
	}
	return list
}

func (p *page) assumed(r *sweep.Result) {
	p.items("Assumed, not measured", wording.Assumed(r.Model))
}
