package words

import (
	"fmt"
	"strings"
)

// What stands on buttons.
const (
	LabelWithdraw = "Take back"
	LabelGates    = "My gates"
	LabelNext     = "Next session"
	LabelWitness  = "I saw it"
	LabelResume   = "Resume"
	LabelMisread  = "I was misread"
	LabelTell     = "Tell the team"
	LabelKeep     = "Keep"
	LabelDrop     = "Drop"
	LabelHurts    = "It hurts"
	LabelFine     = "All fine"
)

// LabelImport stands on the button that has past weeks read.
func LabelImport(weeks int) string { return fmt.Sprintf("Read the past %d weeks", weeks) }

// What stands above a form's fields, and in them as examples.
const (
	FieldDay    = "Day"
	FieldText   = "What was done; none clears the day"
	FieldZone   = "Time zone"
	FieldDays   = "Team days"
	FieldNudge  = "When to remind, 04:00 to 23:59"
	FieldDigest = "Weekly report: day and time"

	ExampleDay    = "yesterday, Thu, 2026-10-05"
	ExampleText   = "3x30s deep hang"
	ExampleZone   = "Europe/Lisbon"
	ExampleDays   = "Mon Thu"
	ExampleNudge  = "17:30"
	ExampleDigest = "Sun 18:00"
)

// What a command's option takes.
const (
	TakesMember = "who"
	TakesGate   = "the gate, by its rung"
	TakesDay    = "a day, as today, Thu or 2026-10-05"
	TakesZone   = "a time zone, as Europe/Lisbon"
)

// TakesCount says of an option that it takes a number.
func TakesCount(option string) string { return "how many " + option }

// TakesChoice says of an option which values it takes.
func TakesChoice(choices []string) string { return strings.Join(choices, " or ") }

// CommandsOf describes the commands within one, by its first word: coach.
func CommandsOf(name string) string { return "for the team's " + name }
