package sheet

import (
	"strings"
	"testing"
)

// TestLongNamesTakeTwoLines: what is told apart by its end, as variants are, is not cut off in the title block.
func TestLongNamesTakeTwoLines(t *testing.T) {
	const width = 72.0
	for text, rows := range map[string]int{
		"Shed kart": 1,
		`Shed kart, shortened donor, variant "spindles swapped, drop arm turned over"`: 2,
	} {
		lines, height := inTwo(text, width)
		if len(lines) != rows || strings.Join(lines, " ") != text {
			t.Errorf("%q in %d lines, want %d", lines, len(lines), rows)
		}
		for _, line := range lines {
			if w := TextWidth(line, height); w > width {
				t.Errorf("%q is %.1f wide", line, w)
			}
		}
	}
}
