package training

// Care says how what somebody said of their own body is to be met. It is acted
// on and forgotten: no package may store it, log it or show it. The zero value
// asks for nothing.
type Care string

const (
	StopCare Care = "stop"   // a joint, tendon or bone: ring work is paused
	Urgent   Care = "urgent" // the same, and a doctor should see it promptly
	SkinCare Care = "skin"   // hand care; no pause
	AskCare  Care = "ask"    // it may be a joint: the member is asked alone
)

// Pauses reports whether the care stops ring work.
func (c Care) Pauses() bool { return c == StopCare || c == Urgent }
