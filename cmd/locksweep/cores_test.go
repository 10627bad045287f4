package main

import (
	"os"
	"runtime"
	"testing"

	"locksweep/fixtures/trial"
)

// TestSameBytesOnAnyNumberOfCores: what is spread over the cores says the same, byte for byte, on one, two and eight of them.
func TestSameBytesOnAnyNumberOfCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	lines := map[string][]string{ // and the files that they write
		"tolerance shed-kart.toml --draws 120 --json -o sure.svg --top top.svg": {"sure.svg", "top.svg"},
	}
	if trial.Long() { // the same draws
		lines["card shed-kart.toml -o -"] = nil
	}
	for line, files := range lines {
		var first string
		for _, cores := range []int{1, 8, 2}[:trial.Every(2, 3)] {
			runtime.GOMAXPROCS(cores)
			said := string(drawn(t, line))
			for _, name := range files {
				file, err := os.ReadFile(name)
				if err != nil || len(file) < 1000 {
					t.Fatalf("%s: %d bytes, %v", name, len(file), err)
				}
				said += string(file)
			}
			if first == "" {
				first = said
			}
			if len(said) < 1000 || said != first {
				t.Errorf("%s on %d cores says something else, or little: %d bytes, on one core %d", line, cores, len(said), len(first))
			}
		}
	}
}
