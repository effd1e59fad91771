package discord_test

import (
	"strings"
	"testing"

	"rungbook/bot/discord/discordtest"
)

func TestALogIsReadAnsweredRevisedAndWithdrawn(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	m := s.says("Priya", "3x18s high hold", 1)
	s.fake.Look(func(v discordtest.View) {
		answer := answersTo(v, m)[0]
		if !strings.Contains(answer.Text, "high hold") || len(answer.Pings) > 0 || len(answer.Parts) == 0 {
			t.Errorf("answer %+v", answer)
		}
	})
	s.fake.Edit(m, "3x20s high hold")
	s.await("revision", func(v discordtest.View) bool {
		answers := answersTo(v, m)
		return len(answers) == 1 && answers[0].Edits == 1 && strings.Contains(answers[0].Text, "20")
	})
	s.fake.Delete(m)
	s.await("withdrawal", func(v discordtest.View) bool { return len(answersTo(v, m)) == 0 })
	if logs := s.logged("Priya"); len(logs) != 0 {
		t.Errorf("still logged: %+v", logs)
	}
}

func TestChatterIsLetGo(t *testing.T) {
	t.Parallel()
	s := settled(t, discordtest.Options{})
	before := len(s.texts(s.rings))
	s.says("Wen", "can anyone give me a lift tomorrow?", 0)
	s.quiet()
	if after := len(s.texts(s.rings)); after != before {
		t.Errorf("the bot said %d things", after-before)
	}
}
