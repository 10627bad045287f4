package main

import (
	"os"
	"runtime"
	"testing"
)

// TestSameBytesOnAnyNumberOfCores: what is spread over the cores says the same, byte for byte, on one, two and eight of them.
func TestSameBytesOnAnyNumberOfCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for line, files := range map[string][]string{
		"tolerance shed-kart.toml --draws 120 --json -o sure.svg --top top.svg": {"sure.svg", "top.svg"},
		"card shed-kart.toml -o -": nil,
	} {
		var first string
		for _, cores := range []int{1, 2, 8} {
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
