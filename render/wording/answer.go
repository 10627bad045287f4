package wording

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"locksweep/geometry/setup"
	"locksweep/geometry/sweep"
)

// Caution ends every report and stands on every drawing.
const Caution = "This is arithmetic on the figures you measured; it certifies nothing. Check every figure on the " +
	"vehicle, fit positive metal stops, and before you drill, grind or weld steering parts follow your local law, " +
	"the rules of your series and the advice of someone licensed for the work."

// Answer is the whole answer of a sweep in a few sentences: both locks with what stops them, and the
// Ackermann error.
func Answer(r *sweep.Result) string {
	var said []string
	for _, d := range sweep.Directions {
		said = append(said, fmt.Sprintf("Turned %s: %s; %s.", d, Wheels(r, d), StoppedBy(r, d)))
	}
	for _, a := range Ackermann(r) {
		said = append(said, a.Label+": "+a.Text+".")
	}
	return strings.Join(said, " ")
}

// Line is a text with what it is about.
type Line struct{ Label, Text string }

// Ackermann says how far the wheels are from ideal either way, once where both ways read alike.
func Ackermann(r *sweep.Result) (lines []Line) {
	var said [2]string
	for _, d := range sweep.Directions {
		said[d] = Turns(r.TurnErrors(d))
	}
	if said[0] == said[1] && said[0] != "" {
		return []Line{{"Ackermann", said[0]}}
	}
	for _, d := range sweep.Directions {
		if said[d] != "" {
			lines = append(lines, Line{"Ackermann " + d.String(), said[d]})
		}
	}
	return lines
}

// ToesOut says the toe-out on turns either way, once where both ways read alike.
func ToesOut(r *sweep.Result) (lines []Line) {
	var said [2]string
	for _, d := range sweep.Directions {
		said[d] = ToeOut(r.TurnErrors(d))
	}
	if said[0] == said[1] && said[0] != "" {
		return []Line{{"Toe-out, turns", said[0] + "; inner less outer wheel as they stand"}}
	}
	for _, d := range sweep.Directions {
		if said[d] != "" {
			lines = append(lines, Line{"Toe-out, " + d.String(), said[d]})
		}
	}
	return lines
}

// Pose says how the wheels stand at a pose and how far they are from the Ackermann condition.
func Pose(r *sweep.Result, p *sweep.Pose) string {
	text := fmt.Sprintf("Steering wheel at %s: left wheel %s, right wheel %s.", Way(p.Column),
		Way(p.Wheels[setup.Left].Steer), Way(p.Wheels[setup.Right].Steer))
	if t := &p.Turn; t.Known() {
		if percent := PercentAt(p.LinkageSteer, t.Percent); Angle(t.Error) != none {
			text += fmt.Sprintf(" Inner wheel off the ideal by %s", Signed(Angle(t.Error)))
			if percent != none {
				text += " (" + percent + "%)"
			}
			text += ", static toe taken off."
		}
		f := r.Figures(p)
		if circle := Circle(r.Setup.Unit, &f); circle != none {
			text += " Turning circle " + circle + " over the front tyres' outer edge."
		}
	}
	return text
}

// Command writes a command as it may be pasted into a shell: its name and file, then the variant, empty without one, and the
// settings as SetArguments writes them, from the second line on.
func Command(name, file, variant string, set []string, most int) []string {
	head := "locksweep " + name + " " + quoted(file)
	if variant != "" {
		head += " --variant " + quoted(variant)
	}
	if len(set) > 0 {
		head += goesOn
	}
	return append([]string{head}, SetArguments(set, most)...)
}

// OnOneLine is a command that was written over lines, as it is typed into one.
func OnOneLine(lines []string) string {
	var words []string
	for _, line := range lines {
		words = append(words, strings.TrimSuffix(line, goesOn))
	}
	return strings.Join(words, " ")
}

// goesOn is the sign that a shell reads on in the next line.
const goesOn = " \\"

// quoted is a text as a shell takes it for one word.
func quoted(s string) string {
	s = setup.Printable(s)
	if s != "" && strings.Trim(s, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./") == "" {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
}

// SetArguments writes settings, "key=value" each, as arguments that may be pasted behind a command in a shell: --set
// 'key=value', each but the last with the sign that the command goes on. A list of points goes on over lines of at most so
// many characters, which the shell hands on as they are.
func SetArguments(set []string, most int) (lines []string) {
	most -= len(goesOn)
	for k, s := range set {
		line := ""
		for i, word := range strings.SplitAfter("--set '"+strings.ReplaceAll(setup.Printable(s), "'", `'\''`)+"'", "], ") {
			if i > 0 && utf8.RuneCountInString(line+word) > most {
				lines, line = append(lines, strings.TrimRight(line, " ")), " "
			}
			line += word
		}
		if k < len(set)-1 {
			line += goesOn
		}
		lines = append(lines, line)
	}
	return lines
}
