//go:build !linux

package store

// fileSystem cannot tell network file systems on this platform; the README
// asks for a local disk.
func fileSystem(string) (name string, network bool, err error) { return "", false, nil }
