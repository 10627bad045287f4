package page

import (
	"cmp"
	"slices"

	"locksweep/geometry/clearance"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/report"
	"locksweep/render/wording"
)

// gapRow is a pair that comes near within the lock.
type gapRow struct{ Gap, Pair, Where string }

func gapRows(r *sweep.Result) (list []gapRow) {
	near := slices.Clone(r.Near)
	slices.SortStableFunc(near, func(a, b clearance.Near) int { return cmp.Compare(a.Gap, b.Gap) })
	for i := range near {
		n := &near[i]
		gap := wording.Length(r.Setup.Unit, n.Gap)
		switch {
		case report.Stops(r, n.Pair):
			gap = "stop"
		case r.Setup.Limits.Tight(n.Gap):
			gap += " !"
		}
		a, b := wording.Pair(r.Model, n.Pair)
		list = append(list, gapRow{gap, a + " – " + b, wording.Way(n.Column)})
	}
	return list
}

// poseRow is a pose of the table.
type poseRow struct{ Column, Left, Right, Ideal, Error, Percent, LeverLeft, LeverRight string }

func poseRows(r *sweep.Result) (list []poseRow) {
	for _, row := range rows(r) {
		p := row.Pose
		lever := func(s setup.Side) string {
			ends := p.Transmission[r.Linkage.Driver[s]]
			return wording.Degrees(min(ends[0], ends[1]))
		}
		list = append(list, poseRow{
			wording.Degrees(p.Column), wording.Degrees(p.Wheels[setup.Left].Steer), wording.Degrees(p.Wheels[setup.Right].Steer),
			wording.Degrees(p.Turn.IdealInner), wording.Signed(wording.Degrees(p.Turn.Error)), wording.PercentAt(p.LinkageSteer, p.Turn.Percent),
			lever(setup.Left), lever(setup.Right),
		})
	}
	return list
}
