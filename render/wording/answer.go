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
func Ackermann(r *sweep.Result) []Line {
	return turnLines(r, Turns, "Ackermann", "Ackermann ", "")
}

// ToesOut says the toe-out on turns either way, once where both ways read alike.
func ToesOut(r *sweep.Result) []Line {
	return turnLines(r, toeOut, "Toe-out, turns", "Toe-out, ", "; inner less outer wheel as they stand")
}

// turnLines says something of the turns either way: once, with what it means, where both ways read alike.
func turnLines(r *sweep.Result, say func([]sweep.TurnError) string, alike, either, means string) (lines []Line) {
	said := [2]string{say(r.TurnErrors(sweep.ToLeft)), say(r.TurnErrors(sweep.ToRight))}
	if said[0] == said[1] && said[0] != "" {
		return []Line{{alike, said[0] + means}}
	}
	for _, d := range sweep.Directions {
		if said[d] != "" {
			lines = append(lines, Line{either + d.String(), said[d]})
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
	most -= len(goesOn)
	lines := argument("locksweep "+name+" ", file, most)
	if variant != "" {
		option := argument("--variant ", variant, most)
		last := &lines[len(lines)-1]
		if one := *last + " " + option[0]; len(option) == 1 && utf8.RuneCountInString(one) <= most {
			*last = one
		} else {
			*last += goesOn
			lines = append(lines, option...)
		}
	}
	if len(set) > 0 {
		lines[len(lines)-1] += goesOn
	}
	return append(lines, SetArguments(set, most+len(goesOn))...)
}

// argument is a word of a command with what stands before it, by lines of at most so many characters.
func argument(before, word string, most int) []string {
	line := before + quoted(word)
	if utf8.RuneCountInString(line) <= most {
		return []string{line}
	}
	lines, rest := inPieces(before+inQuotes(word), most)
	return append(lines, rest)
}

// inPieces cuts a line whose quoted word goes past so many characters: each piece is quoted by itself and ends in wordGoesOn, so that a
// shell joins it with what stands at the edge of the next line. rest is the last, without a sign that anything follows.
func inPieces(line string, most int) (pieces []string, rest string) {
	for line != "" {
		atom := line[:1]
		if strings.HasPrefix(line, apostrophe) {
			atom = apostrophe
		} else if _, n := utf8.DecodeRuneInString(line); n > 1 {
			atom = line[:n]
		}
		if utf8.RuneCountInString(rest+atom) > most-len(wordGoesOn) && utf8.RuneCountInString(strings.TrimRight(rest+line, " ")) > most {
			pieces, rest = append(pieces, rest+wordGoesOn), "'"
		}
		rest, line = rest+atom, line[len(atom):]
	}
	return pieces, rest
}

// WordGoesOn reports whether the word at the end of a command's line goes on at the edge of the next, where nothing may stand before it.
func WordGoesOn(line string) bool { return strings.HasSuffix(line, wordGoesOn) }

// OnOneLine is a command that was written over lines, as it is typed into one.
func OnOneLine(lines []string) string {
	var text strings.Builder
	for i, line := range lines {
		if i > 0 && !WordGoesOn(lines[i-1]) && !strings.HasPrefix(line, " ") {
			text.WriteByte(' ')
		}
		text.WriteString(strings.TrimSuffix(strings.TrimSuffix(line, `\`), " "))
	}
	return text.String()
}

// What a shell reads on after in the next line: a word that stands there, or the rest of this one. And an apostrophe within quotes.
const (
	goesOn     = " \\"
	wordGoesOn = `'\`
	apostrophe = `'\''`
)

// quoted is a text as a shell takes it for one word.
func quoted(s string) string {
	s = setup.Printable(s)
	if s != "" && strings.Trim(s, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./") == "" {
		return s
	}
	return inQuotes(s)
}

func inQuotes(s string) string {
	return "'" + strings.ReplaceAll(setup.Printable(s), "'", apostrophe) + "'"
}

// SetArguments writes settings, "key=value" each, as arguments that may be pasted behind a command in a shell: --set
// 'key=value', each but the last with the sign that the command goes on. A list of points goes on over lines of at most so
// many characters, which the shell hands on as they are.
func SetArguments(set []string, most int) (lines []string) {
	most -= len(goesOn)
	for k, s := range set {
		line := ""
		for i, word := range strings.SplitAfter("--set "+inQuotes(s), "], ") {
			if i > 0 && utf8.RuneCountInString(line+word) > most {
				lines, line = append(lines, strings.TrimRight(line, " ")), " "
			}
			var full []string
			full, line = inPieces(line+word, most)
			lines = append(lines, full...)
		}
		if k < len(set)-1 {
			line += goesOn
		}
		lines = append(lines, line)
	}
	return lines
}
