package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"locksweep/fixtures/example"
)

// BenchmarkProcess times whole processes: starting the program, reading a file, sweeping it and printing the
// report, against starting it alone. At most 3 times as long is wanted.
func BenchmarkProcess(b *testing.B) {
	dir := b.TempDir()
	program := filepath.Join(dir, "locksweep")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		b.Fatalf("build: %v\n%s", err, out)
	}
	data := example.Data(b, "shed-kart")
	kart := filepath.Join(dir, "kart.toml")
	if err := os.WriteFile(kart, data, 0o644); err != nil {
		b.Fatal(err)
	}
	start := func(args ...string) time.Duration {
		began := time.Now()
		if out, err := exec.Command(program, args...).CombinedOutput(); err != nil {
			b.Fatalf("%v: %v\n%s", args, err, out)
		}
		return time.Since(began)
	}
	start("sweep", kart) // the first start reads the program from disk
	var version, sweep time.Duration
	for b.Loop() { // in turn, so that both meet the same machine
		version += start("--version")
		sweep += start("sweep", kart)
	}
	b.ReportMetric(float64(version.Microseconds())/float64(b.N)/1000, "version-ms")
	b.ReportMetric(float64(sweep.Microseconds())/float64(b.N)/1000, "sweep-ms")
	b.ReportMetric(float64(sweep)/float64(version), "times-version")
}
