//go:build !windows

package main

// stay gives code on: only on Windows does a window close with the program that was dropped upon.
func stay(code int) int { return code }
