package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"locksweep/fixtures/example"
	"locksweep/fixtures/trial"
)

// TestDrawingsCarryFileAndDate: every drawing names its file, and with --date the day of the file's last change; without it a later
// day changes no byte.
func TestDrawingsCarryFileAndDate(t *testing.T) {
	dir := t.TempDir()
	kart := filepath.Join(dir, "kart.toml")
	data := example.Data(t, "shed-kart")
	if err := os.WriteFile(kart, data, 0o644); err != nil {
		t.Fatal(err)
	}
	draw := func(line, out string, day time.Time, more ...string) string {
		t.Helper()
		if err := os.Chtimes(kart, day, day); err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(t.TempDir(), "out.svg")
		args := append(strings.Fields(strings.Replace(line, "SETUP", kart, 1)), append(more, out, path)...)
		var said bytes.Buffer
		if status := run(&shell{in: strings.NewReader(""), out: &bytes.Buffer{}, err: &said}, args); status != statusDone {
			t.Fatalf("%q: exit status %d: %s", line, status, said.String())
		}
		drawn, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return string(drawn)
	}
	day := time.Date(2026, 2, 3, 12, 0, 0, 0, time.Local)
	for line, out := range map[string]string{
		"draw SETUP": "-o", "draw SETUP --measuring": "-o", "draw SETUP --chart angles": "-o", "card SETUP": "-o", "rods SETUP": "-o",
		"compare SETUP": "--overlay", "grind SETUP --lock 34": "--view", "grind SETUP --lock 34 ": "--template",
		"drill SETUP --new-arm --edge 1.5 --step 20 --best 1 --slip 0": "--template", "tolerance SETUP --draws 100": "-o",
	} {
		if dated := draw(line, out, day, "--date"); !strings.Contains(dated, "2026-02-03") || !strings.Contains(dated, ">kart.toml") {
			t.Errorf("%s %s --date: the drawing has no date or no file", line, out)
		}
		if searches := strings.HasPrefix(line, "drill") || strings.HasPrefix(line, "grind") || strings.HasPrefix(line, "tolerance"); searches && !trial.Long() {
			continue
		}
		plain := draw(line, out, day)
		if !strings.Contains(plain, ">kart.toml<") || strings.Contains(plain, "2026-02-03") {
			t.Errorf("%s %s: the drawing does not name its file, or says a date that was not asked for", line, out)
		}
		if strings.HasPrefix(line, "draw") && draw(line, out, day.AddDate(0, 0, 1)) != plain {
			t.Errorf("%s %s: a day later the drawing is another", line, out)
		}
	}
	if status := run(&shell{in: bytes.NewReader(data), out: &bytes.Buffer{}, err: &bytes.Buffer{}}, []string{"draw", "-", "--date", "-o", filepath.Join(dir, "x.svg")}); status != statusUsage {
		t.Errorf("a date of standard input: exit status %d, want %d", status, statusUsage)
	}
}
