package main

import (
	"fmt"
	"runtime/debug"
	"strings"
)

// version says which program this is: the module's version and the revision it was built from.
func version() []byte {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return []byte("locksweep, version unknown\n")
	}
	settings := map[string]string{}
	for _, s := range info.Settings {
		settings[s.Key] = s.Value
	}
	text := "locksweep " + info.Main.Version
	if revision := settings["vcs.revision"]; revision != "" {
		text += ", revision " + revision[:min(len(revision), 12)]
		if settings["vcs.modified"] == "true" {
			text += " with changes"
		}
	}
	return fmt.Appendf(nil, "%s, %s\n", text, info.GoVersion)
}

// program names the program on drawings. The version is left out, so that equal setups give equal bytes; see versioned.
const program = "locksweep"

// versioned names the program with its version, or with the revision it was built from where it has no release's; the name alone
// where neither is known.
func versioned() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return program
	}
	release, _, changed := strings.Cut(info.Main.Version, "-")
	if strings.HasPrefix(release, "v") && !changed {
		return program + " " + release
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			return program + " " + s.Value[:min(len(s.Value), 12)]
		}
	}
	return program
}
