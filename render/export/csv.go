package export

import (
	"bytes"
	"encoding/csv"
	"math"
	"strings"
	"unicode"

	"github.com/golang/geo/s1"

	"locksweep/geometry/linkage"
	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
	"locksweep/render/wording"
)

type csvColumn struct {
	name string
	of   func(p *Pose) number
}

// CSV writes the poses as CSV: a header with units, then a row a pose; a cell is empty where
// there is nothing to tell.
func CSV(r *sweep.Result, poses []Pose) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	columns := csvColumns(lengths{r.Setup.Unit}, r.Model)
	row := []string{"setup"}
	for _, c := range columns {
		row = append(row, c.name)
	}
	row = append(row, "past lock")
	w.Write(row)
	for i := range poses {
		p := &poses[i]
		row = append(row[:0], guarded(r.Setup.Name))
		for j, c := range columns {
			cell := ""
			if j == 0 || p.Assembles {
				cell = c.of(p).String()
			}
			row = append(row, cell)
		}
		row = append(row, map[bool]string{true: "yes"}[p.PastLock])
		w.Write(row)
	}
	w.Flush()
	return b.Bytes()
}

// guarded makes a text from outside harmless in a spreadsheet, which takes some first characters for
// the beginning of a formula: in full width and behind spaces of any kind too.
func guarded(text string) string {
	text = setup.Printable(text)
	unseen := func(r rune) bool { return unicode.IsSpace(r) || unicode.In(r, unicode.Cf, unicode.Mn) }
	if trimmed := strings.TrimLeftFunc(text, unseen); trimmed != "" && strings.ContainsRune("=+-@＝＋－＠−﹢﹣﹦﹫", []rune(trimmed)[0]) {
		return "'" + text
	}
	return text
}

func csvColumns(in lengths, m *sweep.Model) []csvColumn {
	unit := " (" + in.unit.String() + ")"
	columns := []csvColumn{{"column (deg)", func(p *Pose) number { return number(p.Asked) }}}
	for _, side := range setup.Sides {
		columns = append(columns, cornerColumns(in, m, side, side.String()+" ", unit)...)
	}
	columns = append(columns,
		csvColumn{"inner (deg)", func(p *Pose) number { return degrees(p.Turn.InnerSteer) }},
		csvColumn{"outer (deg)", func(p *Pose) number { return degrees(p.Turn.OuterSteer) }},
		csvColumn{"ideal inner (deg)", func(p *Pose) number { return degrees(p.Turn.IdealInner) }},
		csvColumn{"Ackermann error (deg)", func(p *Pose) number { return degrees(p.Turn.Error) }},
		csvColumn{"Ackermann percent", func(p *Pose) number { return number(p.Turn.Percent) }},
		csvColumn{"toe-out on turns (deg)", func(p *Pose) number { return degrees(p.Turn.ToeOut()) }},
		csvColumn{"turn centre x" + unit, func(p *Pose) number { return in.of(p.Turn.Centre.X) }},
		csvColumn{"turn centre y" + unit, func(p *Pose) number { return in.of(p.Turn.Centre.Y) }},
		csvColumn{"axle cross x" + unit, func(p *Pose) number { return in.of(p.Turn.AxleCross.X) }},
		csvColumn{"axle cross y" + unit, func(p *Pose) number { return in.of(p.Turn.AxleCross.Y) }},
	)
	for i := range m.Linkage.Rods {
		columns = append(columns, rodColumns(m, i)...)
	}
	return columns
}

// rodColumns are the angles of a rod at what drives it, where no column of a corner has them: drop arms stand with the corners.
func rodColumns(m *sweep.Model, rod int) []csvColumn {
	if m.Linkage.FromDropArm(rod) {
		return nil
	}
	name, on := m.Linkage.Rods[rod].Name(), " "+wording.On(m, rod, linkage.AtDropArm)+" (deg)"
	return []csvColumn{
		{name + " transmission" + on, func(p *Pose) number { return degrees(p.Transmission[rod][linkage.AtDropArm]) }},
		{name + " tilt" + on, func(p *Pose) number { return degrees(p.Tilt[rod][linkage.AtDropArm]) }},
	}
}

func cornerColumns(in lengths, m *sweep.Model, side setup.Side, name, unit string) []csvColumn {
	rod := m.Linkage.Driver[side]
	atDropArm := func(angle s1.Angle) number {
		if m.Linkage.FromDropArm(rod) {
			return degrees(angle)
		}
		return number(math.NaN())
	}
	return []csvColumn{
		{name + "spindle (deg)", func(p *Pose) number { return degrees(p.Sides[side].Spindle) }},
		{name + "steer (deg)", func(p *Pose) number { return degrees(p.Wheels[side].Steer) }},
		{name + "camber (deg)", func(p *Pose) number { return degrees(p.Wheels[side].Camber) }},
		{name + "contact x" + unit, func(p *Pose) number { return in.of(p.Wheels[side].Contact.X) }},
		{name + "contact y" + unit, func(p *Pose) number { return in.of(p.Wheels[side].Contact.Y) }},
		{name + "contact z" + unit, func(p *Pose) number { return in.of(p.Wheels[side].Contact.Z) }},
		{name + "transmission arm (deg)", func(p *Pose) number { return degrees(p.Transmission[rod][linkage.AtArm]) }},
		{name + "transmission drop arm (deg)", func(p *Pose) number { return atDropArm(p.Transmission[rod][linkage.AtDropArm]) }},
		{name + "rod tilt arm (deg)", func(p *Pose) number { return degrees(p.Tilt[rod][linkage.AtArm]) }},
		{name + "rod tilt drop arm (deg)", func(p *Pose) number { return atDropArm(p.Tilt[rod][linkage.AtDropArm]) }},
		{name + "ratio", func(p *Pose) number { return number(p.Ratio[side]) }},
		{name + "steering ratio", func(p *Pose) number { return number(p.SteeringRatio(side)) }},
		{name + "moment arm x" + unit, func(p *Pose) number { return in.of(p.MomentArm[side].X) }},
		{name + "moment arm y" + unit, func(p *Pose) number { return in.of(p.MomentArm[side].Y) }},
		{name + "moment arm z" + unit, func(p *Pose) number { return in.of(p.MomentArm[side].Z) }},
	}
}
