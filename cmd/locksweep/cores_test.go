package main

import (
	"runtime"
	"testing"
)

// TestSameBytesOnAnyNumberOfCores: what is spread over the cores says the same, byte for byte, on one, two and eight of them.
func TestSameBytesOnAnyNumberOfCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, line := range []string{
		"tolerance shed-kart.toml --draws 120 --json",
		"tolerance shed-kart.toml --draws 120 -o -",
		"tolerance shed-kart.toml --draws 120 --top -",
		"card shed-kart.toml -o -",
	} {
		var first string
		for _, cores := range []int{1, 2, 8} {
			runtime.GOMAXPROCS(cores)
			said := string(drawn(t, line))
			if first == "" {
				first = said
			}
			if len(said) < 1000 || said != first {
				t.Errorf("%s on %d cores says something else, or little: %d bytes, on one core %d", line, cores, len(said), len(first))
			}
		}
	}
}
