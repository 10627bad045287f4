package sheet

import "testing"

// TestOneMinusSign: a hyphen before a figure is a minus sign; one within a name, a date, a setting or between figures stays.
func TestOneMinusSign(t *testing.T) {
	for text, want := range map[string]string{
		"-24.0°": "−24.0°", "L -24": "L −24", "[-95, -.5]": "[−95, −.5]", "pickup[1]=-42": "pickup[1]=-42", "-": "-", "−3": "−3",
		"kart-2.svg": "kart-2.svg", "2026-02-03": "2026-02-03", "a4-landscape": "a4-landscape", "20-30": "20-30", "drop_-2": "drop_-2", "x - y": "x - y",
		"--set pickup=[-98, -14] at -20": "--set pickup=[-98, -14] at −20", "lock = -3": "lock = −3",
	} {
		if got := Clean(text); got != want {
			t.Errorf("Clean(%q) = %q, want %q", text, got, want)
		}
	}
}
