//go:build !windows

package main

import (
	"os"
	"os/signal"
	"path/filepath"
	"syscall"

	"github.com/google/renameio/v2"
)

// atomically writes a file as a whole: readers see the old file or the new one, and an interrupt
// leaves nothing behind.
func atomically(path string, data []byte) error {
	interrupt := make(chan os.Signal, 1)
	signal.Notify(interrupt, os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
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
		return f.CloseAtomicallyReplace()
	}
}
