// Package compiler turns what the files say (package lang) into what can be
// solved (package solver) and back into what happens at every named place.
//
// A Program is one system compiled: the nodes that its paths make, the devices
// between them, and one flow network that all cases share. A case is then an
// overlay of parameters: lowering it reads the merged blocks of the case, finds
// which gas reaches what, and gives every element its law. Running a Program
// solves all cases and fills an Outcome, in SI units, by name.
//
// Judging is not done here: package rule holds every limit against a Run.
package compiler
