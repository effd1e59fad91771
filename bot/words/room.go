package words

import (
	"fmt"
	"strings"
)

// What the local room says of itself, in one way only.
const (
	NoCommandChange = "A command can't be changed. Say it again as you mean it; /undo takes your last log back."
	NewTextMissing  = "Write the new text behind it: /edit 3x20s high hold"
)

// RoomWelcome is what the room opens with, by who speaks first.
func RoomWelcome(speaker string) string {
	return fmt.Sprintf(`You are in the team's channel, speaking as %s. Type what you did, or /help.
  > TEXT          to the bot alone        /as NAME    speak as somebody else
  /edit TEXT      your last message anew  /delete     take it away
  /tap BUTTON     press a button          /who        who is here
  /quit           leave`, speaker)
}

// RoomNewcomer says that a name is nobody's yet.
func RoomNewcomer(name string) string {
	return name + " is new here. A first log makes a member of them."
}

// RoomPeople answers /who.
func RoomPeople(names []string) string {
	return "Here: " + strings.Join(names, ", ") + ". /as NAME speaks as one of them."
}

// RoomCoach is a coach's name in that.
func RoomCoach(name string) string { return name + " (coach)" }

// RoomManager is the name of somebody who may manage the server.
func RoomManager(name string) string { return name + " (manager)" }

// RoomSilent refuses to change the last message of somebody who wrote none.
func RoomSilent(name string) string { return name + " has said nothing yet." }

// RoomNoButton refuses a button that there is not, or not for the speaker.
func RoomNoButton(button, speaker string) string {
	return fmt.Sprintf("No answer here has a button %q that %s can press. The buttons stand in brackets below an answer.", button, speaker)
}

// RoomFault shows the bot's own fault.
func RoomFault(err error) string {
	return "(the bot's own fault: " + strings.ReplaceAll(err.Error(), "\n", "; ") + ")"
}

// RoomMessage names somebody's message by its time of day.
func RoomMessage(name, clock string) string { return name + "'s " + clock }

// RoomEarlier names a message that the room no longer knows.
func RoomEarlier(name string) string { return "an earlier message of " + name }

// RoomQuestionDown says that a question to somebody alone is gone.
func RoomQuestionDown(name string) string {
	return "(the question to " + name + " alone is taken down)"
}

// RoomAnswerDown says that an answer is gone; message is as RoomMessage or
// RoomEarlier names what it answered.
func RoomAnswerDown(message string) string { return "(the answer to " + message + " is taken down)" }

// RoomMarked says that a message got a mark.
func RoomMarked(message string) string { return "(✓ on " + message + ")" }

// RoomAlone says who alone reads a post.
func RoomAlone(name string, coach bool) string {
	if coach {
		return " to coach " + name + " alone"
	}
	return " to " + name + " alone"
}

// RoomInstead says that an answer stands in the place of another.
func RoomInstead(message string) string { return ", instead of the answer to " + message }

// RoomFile shows a file.
func RoomFile(name string, bytes int) string { return fmt.Sprintf("(file %s, %d bytes)", name, bytes) }
