package main

import (
	"os"
	"path/filepath"
)

// atomically writes a file as a whole: readers see the old file or the new one. Where it should be fresh the error is
// fs.ErrExist if there is a file by then.
func atomically(path string, data []byte, fresh bool) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+"*")
	if err != nil {
		return err
	}
	defer os.Remove(f.Name())
	if _, err = f.Write(data); err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		return err
	}
	if fresh {
		claim, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o644)
		if err != nil {
			return err
		}
		claim.Close()
	}
	return os.Rename(f.Name(), path)
}
