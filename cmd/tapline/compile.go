package main

import "errors"

// compile is the engine of the command.
func compile([]string, engineOptions) (*solution, error) {
	return nil, errors.New("this build holds no compiler yet")
}
