package main

import (
	"cmp"
	"runtime"
	"runtime/debug"
	"strings"
	"time"

	"pipstake/cmd/pipstake/notices"
)

var versionCommand = command{
	name:    "version",
	summary: "tell which pipstake this is",
	options: "[--licences]",
	help: `Prints the version, the revision it was built from, and the Go release. With
--licences it prints the notices of the parts that the program is made with, as
their licences ask.

  pipstake version
  pipstake version --licences | less`,
	define: func(f *flags) action {
		licences := f.onOff("licences", "print the notices of the parts in the program")
		return func(e *env, _ []string) error {
			if *licences {
				e.Say("%s", strings.TrimSuffix(notices.Text, "\n"))
				return nil
			}
			e.Say("pipstake %s", buildVersion())
			return nil
		}
	},
}

// release is the version that is given away, where the linker set one.
var release string

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
	version := cmp.Or(release, info.Main.Version, "(devel)")
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
