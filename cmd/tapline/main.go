// Tapline compiles system descriptions of gas sample and distribution systems,
// solves their pressures and flows over operating cases, and flags what leaves
// its band.
//
//	tapline check DIR...   solve every case, print what is flagged
//	tapline curve TAG DIR  show what a device does over its flow
//	tapline solve DIR...   print all nodes and devices as well
//	tapline fluid NAME     print what the properties of a fluid are taken to be
//	tapline version        print the version
//
// The exit status is 0 if nothing is flagged, 1 for alarms and cautions, 2 for
// files or arguments that cannot be used, 3 if a case has no solution and 4 for
// a fault of the program itself; 2 comes before 3, and 3 before 1.
//
// Each command has a file of its own; run.go holds what check and solve share.
package main

import "os"

func main() {
	a := app{args: os.Args[1:], stdout: os.Stdout, stderr: os.Stderr, getenv: os.Getenv, engine: compile}
	os.Exit(a.run())
}
