package training

// Site is a place of the body that a pain report is about.
type Site string

const (
	Elbow    Site = "elbow"
	Wrist    Site = "wrist"
	Shoulder Site = "shoulder"
	Forearm  Site = "forearm"
	Skin     Site = "skin"
	Other    Site = "other" // hand, upper arm, chest
)

// Care says how a report is to be met, beyond stopping.
type Care string

const (
	SkinCare Care = "skin"   // hand care; no pause
	Urgent   Care = "urgent" // see a doctor promptly
)

// PainReport is what somebody said of their body. It is acted on and
// forgotten: no package may store it, log it or show it.
type PainReport struct {
	Site  Site     `json:"site"`
	Side  Side     `json:"side,omitempty"`
	Score Optional `json:"score,omitzero"` // 0-10
	Care  Care     `json:"care,omitempty"`
}

// Pauses reports whether the report stops ring work: a joint, tendon or bone of
// their own, with a score above 0 or none.
func (p PainReport) Pauses() bool {
	return p.Site != Skin && p.Care != SkinCare && !(p.Score.Known && p.Score.Value == 0)
}
