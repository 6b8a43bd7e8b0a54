package main

import (
	"runtime"
	"runtime/debug"
	"time"
)

var versionCommand = command{
	name:    "version",
	summary: "tell which pipstake this is",
	help: `Prints the version, the revision it was built from, and the Go release.

  pipstake version`,
	define: func(*flags) action {
		return func(e *env, _ []string) error {
			e.Say("pipstake %s", buildVersion())
			return nil
		}
	},
}

// buildTime is when the revision was made that the program was built from.
func buildTime() (time.Time, bool) {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return time.Time{}, false
	}
	for _, s := range info.Settings {
		if s.Key == "vcs.time" {
			made, err := time.Parse(time.RFC3339, s.Value)
			return made, err == nil
		}
	}
	return time.Time{}, false
}

// buildVersion is what the toolchain noted in the program.
func buildVersion() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "of unknown version, " + runtime.Version()
	}
	version := info.Main.Version
	if version == "" {
		version = "(devel)"
	}
	settings := map[string]string{}
	for _, s := range info.Settings {
		settings[s.Key] = s.Value
	}
	if revision := settings["vcs.revision"]; revision != "" {
		version += ", revision " + revision[:min(12, len(revision))]
		if settings["vcs.modified"] == "true" {
			version += " with changes"
		}
	}
	return version + ", " + info.GoVersion + " " + runtime.GOOS + "/" + runtime.GOARCH
}
