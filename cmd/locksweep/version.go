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
	text := "locksweep " + info.Main.Version
	if revision, changed := builtFrom(info); revision != "" {
		text += ", revision " + revision
		if changed {
			text += " with changes"
		}
	}
	return fmt.Appendf(nil, "%s, %s\n", text, info.GoVersion)
}

// builtFrom is the beginning of the revision that the program was built from, empty where it is not known, and whether the
// tree was changed since.
func builtFrom(info *debug.BuildInfo) (revision string, changed bool) {
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			revision = s.Value[:min(len(s.Value), 12)]
		case "vcs.modified":
			changed = s.Value == "true"
		}
	}
	return revision, changed
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
	revision, _ := builtFrom(info)
	return strings.TrimSpace(program + " " + revision)
}
