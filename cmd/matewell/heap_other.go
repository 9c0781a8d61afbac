//go:build !linux

package main

// roomyHeap does nothing: only Linux is asked for large pages.
func roomyHeap() {}
