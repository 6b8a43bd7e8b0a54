// Package notices holds the notices that the licences of the program's parts ask
// to be given along with it.
package notices

import _ "embed"

// Text names each part of the program, its version and its licence, whole. It
// is made from the modules themselves: UPDATE_NOTICES=1 go test ./cmd/pipstake/notices
//
//go:embed notices.txt
var Text string
