package rehearsal

import (
	_ "embed"
	"fmt"
)

//go:embed tidewater.chat
var tidewater []byte

// Tidewater returns the built-in weeks of Tidewater Rings, an amateur ring club
// in a converted boathouse in Aveiro. Nobody in it is a real person.
func Tidewater() *Transcript {
	transcript, err := Parse("tidewater.chat", tidewater)
	if err != nil {
		panic(fmt.Sprintf("built-in weeks: %v", err)) // held by a test
	}
	return transcript
}
