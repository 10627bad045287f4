package setupfile

import (
	"bytes"
	"slices"
	"strconv"
	"strings"
)

// phrases are pieces of the parser's messages with what we say instead.
var phrases = [...]struct{ theirs, ours string }{
	{"leading zeroes", "drop the leading zero"},
	{"decimal point", "a digit is missing here: write 12 or 12.5"},
	{"exponent must", "a digit is missing here: write 12 or 12.5"},
	{"radix", "is not a number; write plain digits"},
	{"underscores", "is not a number; write plain digits"},
	{"expected '='", "= is missing: a line reads key = value"},
	{"expected key but", "a key is missing here: a line reads key = value"},
	{"start of key", "a key is missing here: a line reads key = value"},
	{"to close", "the bracket of the heading is not closed"},
	{"cannot have new lines", "the text ends here without its closing quote"},
	{"expected ','", "a comma or the closing bracket is missing before this (decimals take a point)"},
	{"unexpected comma", "a comma too many"},
	{"escape", badEscape},
	{"after \\", badEscape},
	{"hexadecimal digit", badEscape},
	{"control characters", "a control character stands here; delete it"},
	{"arriage returns", bareReturn},
	{"nested", tooDeep},
}

const (
	neverClosed = "a bracket opened here is never closed: ] or } is missing"
	badEscape   = `is no escape that exists; write a backslash as \\, or put the text in single quotes`
	bareReturn  = "a line ends in a bare carriage return; save the file with LF or CRLF line ends"
)

// reword says in plain words what the TOML parser's message means, for an error at offset at in the expression that begins at
// start. It returns the offset that the error is shown at: a quote or bracket that is never closed is shown at start.
func reword(data []byte, start, at int, message string) (where int, said string) {
	rest := string(data[min(at, len(data)):])
	has := func(part string) bool { return strings.Contains(message, part) }
	if said := workshopNumber(data, at); said != "" {
		return at, said
	}
	switch {
	case has("strings must be quoted"):
		return at, afterNumber(rest)
	case has("expected newline"):
		return at, afterValue(data, at, rest)
	case has("start of value"), has("expected keyword"), has("expected value"), has(`expected "`),
		has("expected digit"), has("expected number"):
		return at, noValue(rest)
	case has("array is incomplete"), has("inline table is incomplete"), has("expected ','") && ranOn(data, start, at):
		return start, neverClosed
	case has("terminated"):
		return start, "a quote opened here is never closed"
	}
	for _, p := range phrases {
		if has(p.theirs) {
			return at, p.ours
		}
	}
	return at, "cannot be read: " + message
}

// workshopNumber says how to write a number that stands as it does on a tape or a drawing, with a fraction or with the
// sign of its unit; empty where there is none at the offset.
func workshopNumber(data []byte, at int) string {
	from := min(at, len(data))
	for from > 0 && strings.IndexByte("0123456789 \t-+./", data[from-1]) >= 0 {
		from--
	}
	to := min(at, len(data))
	for to < len(data) && strings.IndexByte("0123456789 \t-/", data[to]) >= 0 {
		to++
	}
	number, rest := strings.TrimSpace(string(data[from:to])), string(data[to:])
	if decimal, ok := fraction(number); ok {
		return "write the fraction as a decimal: " + elide(number) + " is " + decimal
	}
	if _, err := strconv.ParseFloat(number, 64); err != nil {
		return ""
	}
	for _, sign := range []string{"°", "º", "″", "”", "“", "′", "’"} {
		if strings.HasPrefix(rest, sign) {
			return "write " + elide(number) + " without the sign: angles are in degrees, lengths in the unit that units names"
		}
	}
	return ""
}

// fraction reads 5/16, 3 5/16 or 3-5/16 and writes it as a decimal.
func fraction(s string) (decimal string, ok bool) {
	over, under, ok := strings.Cut(s, "/")
	whole := ""
	if i := strings.LastIndexAny(strings.TrimSpace(over), " \t-"); i > 0 {
		whole, over = over[:i], over[i+1:]
	}
	p, errP := strconv.ParseUint(strings.TrimPrefix(strings.TrimSpace(over), "-"), 10, 16)
	q, errQ := strconv.ParseUint(strings.TrimSpace(under), 10, 16)
	w, errW := strconv.ParseInt(strings.TrimSpace(whole), 10, 32)
	if !ok || errP != nil || errQ != nil || q == 0 || whole != "" && errW != nil {
		return "", false
	}
	part := float64(p) / float64(q)
	if strings.HasPrefix(s, "-") {
		part = -part
	}
	return strconv.FormatFloat(float64(w)+part, 'f', -1, 64), true
}

// ranOn reports whether a bracket that was opened on an earlier line ran into the next key or heading.
func ranOn(data []byte, start, at int) bool {
	return at > start && bytes.IndexByte(data[start:at], '\n') >= 0 &&
		(word(string(data[at:min(at+1, len(data))])) != "" || looksLikeHeading(data[at:]))
}

// afterNumber is what to say of letters that follow a number without a space.
func afterNumber(rest string) string {
	if isUnit(word(rest)) {
		return `drop the unit: units = "mm" or "in" holds for the whole file`
	}
	return "is neither a number nor text; text stands in quotes"
}

// afterValue is what to say of rest, which follows a complete value on its line and begins at offset at.
func afterValue(data []byte, at int, rest string) string {
	numberBefore := at > 0 && bytes.IndexByte([]byte("0123456789 \t"), data[at-1]) >= 0
	switch {
	case strings.HasPrefix(rest, "\r"):
		return bareReturn
	case isUnit(word(rest)), rest != "" && (rest[0] == '"' || rest[0] == '\'') && numberBefore:
		return `drop the unit: units = "mm" or "in" holds for the whole file`
	case strings.HasPrefix(rest, ",") && numberBefore:
		return "decimals take a point, not a comma"
	case strings.HasPrefix(rest, "/"):
		return "write the fraction as a decimal: 3/8 is 0.375"
	}
	return "does not belong here: one key = value to a line, notes after #"
}

// noValue is what to say where a value should begin and none does.
func noValue(rest string) string {
	switch {
	case strings.HasPrefix(rest, "."):
		return "write a zero before the point: 0.5"
	case rest == "", strings.HasPrefix(rest, "\n"), strings.HasPrefix(rest, "\r"), strings.HasPrefix(rest, "#"):
		return "the value is missing"
	case word(rest) != "":
		return "is no number, true or false; text stands in quotes"
	}
	if said := wordProcessed(rest); said != "" {
		return said
	}
	return "a value cannot begin like this: a number, text in quotes, [list] or {table}"
}

// wordProcessed says what to type in place of a quote or a minus as word processors set them; empty where text begins with neither.
func wordProcessed(text string) string {
	for _, quote := range []string{"“", "”", "„", "«", "»", "‘", "’", "‚"} {
		if strings.HasPrefix(text, quote) {
			return "is a quote as word processors set it (" + quote + `); type " and save the file as plain text`
		}
	}
	for _, dash := range []string{"–", "—", "−"} {
		if strings.HasPrefix(text, dash) {
			return "is a dash as word processors set it (" + dash + "); type the keyboard's minus - and save the file as plain text"
		}
	}
	return ""
}

// word returns the letters that s begins with.
func word(s string) string {
	return s[:len(s)-len(strings.TrimLeft(s, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"))]
}

// isUnit reports whether people write the word after a length, an angle or a weight.
func isUnit(w string) bool {
	return slices.Contains([]string{"mm", "cm", "m", "in", "inch", "inches", "ft", "deg", "degree", "degrees", "kg"}, strings.ToLower(w))
}

// resume returns where reading can go on after a syntax error at offset at: the next line, or where that would be
// in the middle of a bracket the next [heading].
func (p *parser) resume(at int) int {
	data := p.doc.data
	at = min(at, len(data))
	start := min(p.expressionStart(), at)
	next := nextLine(data, at)
	if !open(data[start:next]) {
		return next
	}
	if line := 1 + bytes.LastIndexByte(data[:at], '\n'); line > start {
		next = line // the heading may be what the bracket ran into
	}
	for next < len(data) && !looksLikeHeading(data[next:]) {
		next = nextLine(data, next)
	}
	return next
}

func nextLine(data []byte, i int) int {
	if j := bytes.IndexByte(data[i:], '\n'); j >= 0 {
		return i + j + 1
	}
	return len(data)
}

// open reports whether the text has a bracket that is not closed.
func open(text []byte) bool {
	depth := 0
	for _, c := range text {
		switch c {
		case '[', '{':
			depth++
		case ']', '}':
			depth--
		}
	}
	return depth > 0
}

// looksLikeHeading reports whether a line is a heading such as [arm] or [[part]], and not a line of a list.
func looksLikeHeading(line []byte) bool {
	rest := bytes.TrimLeft(line, " \t")
	trimmed := bytes.TrimLeft(rest, "[")
	return len(rest) > len(trimmed) && len(rest)-len(trimmed) <= 2 && word(string(trimmed[:min(1, len(trimmed))])) != ""
}
