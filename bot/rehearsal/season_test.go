package rehearsal_test

import (
	"slices"
	"testing"

	"rungbook/bot/rehearsal"
)

// The built-in weeks hold, at least once, what a team goes through.
func TestTidewaterHoldsAWholeSeason(t *testing.T) {
	weeks := rehearsal.Tidewater()
	met := map[string]bool{}
	for _, one := range readSaid(t, playReal(t, weeks, "", rehearsal.NewJSON)) {
		met[one.Kind+" to "+one.To] = true
		for _, gate := range one.Facts.Gates {
			met["gate "+gate.Status] = true
		}
		for _, violation := range one.Facts.Violations {
			met["violation of "+violation.Rule] = true
		}
		for _, member := range one.Facts.Members {
			met["away"] = met["away"] || member.Away
			for _, rung := range member.Moved {
				met["moved on from "+rung] = true
			}
		}
		met["paused"] = met["paused"] || one.Facts.Paused
		met["returning"] = met["returning"] || one.Facts.Returning
		met["may attempt"] = met["may attempt"] || one.Facts.MayAttempt
		met["back-dated"] = met["back-dated"] || one.Answers != "" && one.Facts.Day != "" && one.Answers[:10] > one.Facts.Day && one.Answers[11:] > "04"
	}
	for _, want := range []string{
		"reply to channel", "reply to private", "revise to channel", "withdraw to channel", "mark to channel", "nudge to channel",
		"digest to coach", "notice to coach", "notice to private",
		"gate shut", "gate open", "gate witnessed", "gate lapsed", "violation of clear days", "violation of week",
		"away", "paused", "returning", "may attempt", "back-dated",
		"moved on from ring rows", "moved on from pull-ups", "moved on from high hold", "moved on from mid hang", "moved on from deep hang",
		"moved on from toe support", "moved on from support", "moved on from toe transitions", "moved on from transitions", "moved on from dips",
	} {
		if !met[want] {
			t.Errorf("the weeks hold no %s", want)
		}
	}
	for _, kind := range []rehearsal.EventKind{rehearsal.Edits, rehearsal.Deletes, rehearsal.Taps, rehearsal.Restart, rehearsal.Offline} {
		if !slices.ContainsFunc(weeks.Events, func(e *rehearsal.Event) bool { return e.Kind == kind }) {
			t.Errorf("nobody %s in the weeks", kind)
		}
	}
}
