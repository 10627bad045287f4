// Command release builds the program for every system and packs each with README and the licences of what is linked: .tar.gz, for
// Windows .zip, and a file of checksums, into the folder named. The same sources and the same Go give the same bytes.
package main

import (
	"archive/tar"
	"archive/zip"
	"compress/gzip"
	"crypto/sha256"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

var systems = []string{"linux/amd64", "linux/arm64", "darwin/amd64", "darwin/arm64", "windows/amd64", "windows/arm64"}

// packed is what stands beside the program.
var packed = []string{"README.md", "THIRD-PARTY.txt"}

// unfused keeps the compiler from making one instruction of x*y + z where a processor has it: every system then gives the same numbers to
// the last bit. It is for debugging, so nothing else rests on it; .ci/same builds with it too.
const unfused = "-gcflags=all=-d=fmahash=qn"

// stamp is the date of every file: an archive may not tell when it was made, or no two were the same.
var stamp = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: go run ./.ci/release FOLDER")
		os.Exit(2)
	}
	if err := release(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func release(folder string) error {
	work, err := os.MkdirTemp("", "release")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	sums := ""
	for _, system := range systems {
		goos, goarch, _ := strings.Cut(system, "/")
		program, name := "locksweep", "locksweep-"+goos+"-"+goarch
		if goos == "windows" {
			program += ".exe"
		}
		path := filepath.Join(work, program)
		build := exec.Command("go", "build", unfused, "-trimpath", "-buildvcs=false", "-ldflags", "-s -w -buildid=", "-o", path, "./cmd/locksweep")
		build.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+goos, "GOARCH="+goarch)
		if out, err := build.CombinedOutput(); err != nil {
			return fmt.Errorf("build for %s: %w\n%s", system, err, out)
		}
		archive := filepath.Join(folder, name+".tar.gz")
		pack := tarGzip
		if goos == "windows" {
			archive, pack = filepath.Join(folder, name+".zip"), zipped
		}
		if err := pack(archive, name, append([]string{path}, packed...)); err != nil {
			return err
		}
		data, err := os.ReadFile(archive)
		if err != nil {
			return err
		}
		line := fmt.Sprintf("%x  %s\n", sha256.Sum256(data), filepath.Base(archive))
		fmt.Print(line)
		sums += line
	}
	return os.WriteFile(filepath.Join(folder, "SHA256SUMS"), []byte(sums), 0o644)
}

// mode is 755 of the program and 644 of what stands beside it.
func mode(i int) int64 {
	if i == 0 {
		return 0o755
	}
	return 0o644
}

func tarGzip(archive, name string, files []string) (err error) {
	f, err := os.Create(archive)
	if err != nil {
		return err
	}
	packer := gzip.NewWriter(f)
	w := tar.NewWriter(packer)
	defer func() { err = errors.Join(err, w.Close(), packer.Close(), f.Close()) }()
	for i, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		if err := w.WriteHeader(&tar.Header{Name: name + "/" + filepath.Base(file), Mode: mode(i), Size: int64(len(data)), ModTime: stamp, Format: tar.FormatUSTAR}); err != nil {
			return err
		}
		if _, err := w.Write(data); err != nil {
			return err
		}
	}
	return nil
}

func zipped(archive, name string, files []string) (err error) {
	f, err := os.Create(archive)
	if err != nil {
		return err
	}
	w := zip.NewWriter(f)
	defer func() { err = errors.Join(err, w.Close(), f.Close()) }()
	for i, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		h := &zip.FileHeader{Name: name + "/" + filepath.Base(file), Method: zip.Deflate, Modified: stamp}
		h.SetMode(os.FileMode(mode(i)))
		part, err := w.CreateHeader(h)
		if err != nil {
			return err
		}
		if _, err := part.Write(data); err != nil {
			return err
		}
	}
	return nil
}
