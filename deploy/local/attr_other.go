//go:build !linux

package local

// setAttribute: the file systems of the other systems that build this keep attributes.
func setAttribute(string) error { return nil }
