package rehearsal_test

import (
	"testing"

	"rungbook/bot/rehearsal"
)

// The built-in weeks are a transcript that can be read, and come without the
// bot's lines: those are always the bot's of today.
func TestTidewaterReads(t *testing.T) {
	weeks := rehearsal.Tidewater()
	if len(weeks.Events) == 0 || weeks.Events[len(weeks.Events)-1].Kind != rehearsal.End {
		t.Error("the weeks have no end")
	}
}
