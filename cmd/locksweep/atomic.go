//go:build !windows

package main

import (
	"errors"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"

	"github.com/google/renameio/v2"
)

// atomically writes a file as a whole: readers see the old file or the new one, and an interrupt
// leaves nothing behind. Where it should be fresh the error is fs.ErrExist if there is a file by then.
func atomically(path string, data []byte, fresh bool) error {
	interrupt := make(chan os.Signal, 1)
	signal.Notify(interrupt, ending...)
	defer signal.Stop(interrupt)
	f, err := renameio.NewPendingFile(path, renameio.WithTempDir(filepath.Dir(path)),
		renameio.WithPermissions(0o644), renameio.WithExistingPermissions())
	if err != nil {
		return err
	}
	defer f.Cleanup()
	if _, err := f.Write(data); err != nil {
		return err
	}
	select {
	case <-interrupt:
		return errInterrupted
	default:
	}
	if fresh {
		return linked(f, path)
	}
	return f.CloseAtomicallyReplace()
}

// linked gives a file that is written its name, unless there is one of that name.
func linked(f *renameio.PendingFile, path string) error {
	if err := f.Sync(); err != nil {
		return err
	}
	err := os.Link(f.Name(), path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return err
	}
	// A file system without links: the name is taken first, and the file put there.
	claim, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	claim.Close()
	return f.CloseAtomicallyReplace()
}
