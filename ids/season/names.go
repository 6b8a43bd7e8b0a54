package season

import "pipstake/ids/registry"

// nameKey is the same for two ways to write a name.
func nameKey(name string) string { return registry.NameKey(name) }
