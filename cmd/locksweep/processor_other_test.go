//go:build !unix

package main

import "time"

var began = time.Now()

// processorTime stands in for the processors' time where the system does not tell it.
func processorTime() time.Duration { return time.Since(began) }
