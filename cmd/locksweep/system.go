//go:build !js && !plan9

package main

import (
	"errors"
	"os"
	"os/signal"
	"syscall"
)

// ending are the signals that end a run, so that what is half written is taken away.
var ending = []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}

// ignoreClosedPipes lets a closed pipe show itself as an error of the write, not as a signal that kills.
func ignoreClosedPipes() { signal.Ignore(syscall.SIGPIPE) }

// closedPipe reports whether nobody reads any more what was written.
func closedPipe(err error) bool { return errors.Is(err, syscall.EPIPE) }

// fullDisk and readOnly report why a file cannot be written.
func fullDisk(err error) bool { return errors.Is(err, syscall.ENOSPC) }
func readOnly(err error) bool { return errors.Is(err, syscall.EROFS) }
