//go:build js || plan9

package main

import "os"

// What system.go tells of systems that number their errors: these do not, and say the rest in words of their own.

var ending = []os.Signal{os.Interrupt}

func ignoreClosedPipes() {}

func closedPipe(error) bool { return false }
func fullDisk(error) bool   { return false }
func readOnly(error) bool   { return false }
