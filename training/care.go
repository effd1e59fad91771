package training

// Care is what to do about something that somebody said of their own body. It
// is acted on and forgotten: no package may store it, log it or show it. The zero
// value asks for nothing.
type Care string

const (
	StopCare Care = "stop"   // a joint, tendon or bone hurts: pause ring work
	Urgent   Care = "urgent" // pause ring work, and a doctor should see it promptly
	SkinCare Care = "skin"   // torn skin: say how to care for hands, no pause
	AskCare  Care = "ask"    // it may be a joint: ask the member, alone
)

// Pauses reports whether the care stops ring work.
func (c Care) Pauses() bool { return c == StopCare || c == Urgent }
