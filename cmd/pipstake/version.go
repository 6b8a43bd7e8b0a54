package main

import (
	"runtime"
	"runtime/debug"
)

var versionCommand = command{
	name:    "version",
	summary: "tell which pipstake this is",
	help:    `Prints the version, the revision it was built from, and the Go release.`,
	define: func(*flags) action {
		return func(e *env, _ []string) error {
			e.say("pipstake %s", buildVersion())
			return nil
		}
	},
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
