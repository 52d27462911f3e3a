//go:build !linux

package main

func prefault() error { return nil }
