package wording

import (
	"fmt"

	"locksweep/geometry/grind"
	"locksweep/geometry/linkage"
	"locksweep/geometry/sweep"
)

// StopAdvices is StopAdvice for both directions.
func StopAdvices(p *grind.Plan) []string {
	return BothWays(func(d sweep.Direction) string { return StopAdvice(p, d) }, "turning right it is the same on the other side")
}

// GrindShouts are StopAdvices and GrindAdvices behind their marks, as they stand above a drawing.
func GrindShouts(p *grind.Plan) (lines []string) {
	for _, text := range StopAdvices(p) {
		lines = append(lines, "!!! "+text)
	}
	for _, text := range GrindAdvices(p) {
		lines = append(lines, "! "+text)
	}
	return lines
}

// stopLine says what stops the wheels with the cuts made.
func stopLine(p *grind.Plan, d sweep.Direction) string {
	first := p.Locks[d].First()
	if first == nil {
		return "nothing stops it within " + Followed(p.Model) + " of the steering wheel"
	}
	return "then " + Limit(p.After, first)
}

// Next says what limits after the cut and how far beyond the target it comes.
func Next(p *grind.Plan, d sweep.Direction, l *sweep.Limit) string {
	steer := p.SteerAt(d, l.Column)
	return fmt.Sprintf("%s of the inner wheel, %s beyond the target: %s", Angle(steer), Angle(steer-p.Steer[d]), Limit(p.After, l))
}

// StopAdvice says whether metal still stops the wheels in time, and where a pad would; empty where all is well.
func StopAdvice(p *grind.Plan, d sweep.Direction) string {
	s := &p.Stops[d]
	if !s.Missing() {
		return ""
	}
	text := fmt.Sprintf("turning %s no metal stops the wheels", d)
	switch {
	case s.Metal != nil:
		text = fmt.Sprintf("turning %s metal stops the wheels too late, at %s of the inner wheel; at %s %s", d, Angle(s.Steer), Angle(s.Hazard.At), Blocks(p.Model, &s.Hazard))
	case s.Hazard.Reason != grind.ByHalfTurn:
		text += fmt.Sprintf(" in time: at %s of the inner wheel %s", Angle(s.Hazard.At), Blocks(p.Model, &s.Hazard))
	}
	return text + "; " + padAdvice(p, s)
}

// padAdvice says where a pad would be the stop, or that no place was found.
func padAdvice(p *grind.Plan, s *grind.Stop) string {
	u := p.Model.Setup.Unit
	if s.Pad == nil {
		first, last := p.Pads[0], p.Pads[len(p.Pads)-1]
		size := Length(u, first.Width) + " by " + Length(u, first.Thickness)
		if last != first {
			size += " to " + Length(u, last.Thickness)
		}
		return fmt.Sprintf("no place was found where a pad of %s gives %s: try another size with --pad, or make a stop on the frame", size, Angle(s.Wanted))
	}
	return "as a stop that holds, " + padLine(p, s.Pad)
}

// padLine says where a stop pad goes.
func padLine(p *grind.Plan, at *grind.Place) string {
	u := p.Model.Setup.Unit
	host := &p.After.Scene.Pieces[at.Piece]
	axes, fix := "[forward, outboard] from the kingpin", ""
	if host.Body != linkage.Frame {
		axes, fix = axes+", wheels straight ahead", "; bolt it on: no welding on forged, cast or hardened spindles"
	}
	return fmt.Sprintf("a pad %s wide and %s thick on the edge of the %s at %s (%s) meets the %s at %s of the inner wheel",
		Length(u, at.Pad.Width), Length(u, at.Pad.Thickness), Piece(p.After, at.Piece), planPoint(u, at.At), axes, Piece(p.After, at.Meets), Angle(at.Lock)) + fix
}
