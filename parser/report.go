package parser

import "rungbook/training"

// site is a place of the body that a report is about.
type site string

const (
	siteElbow    site = "elbow"
	siteWrist    site = "wrist"
	siteShoulder site = "shoulder"
	siteForearm  site = "forearm"
	siteSkin     site = "skin"
	siteOther    site = "other" // hand, upper arm, chest
)

// bothSides is the side of a report about both.
const bothSides training.Side = "both"

// report is what somebody said of one place of their body. Only the care it asks
// for leaves this package.
type report struct {
	Site  site
	Side  training.Side
	Score training.Optional // 0-10
	Care  training.Care
}

// care is how the report is to be met; nothing where its score is 0.
func (p report) care() training.Care {
	switch {
	case p.Site == siteSkin || p.Care == training.SkinCare:
		return training.SkinCare
	case p.Score.Known && p.Score.Value == 0:
		return ""
	case p.Care == training.Urgent:
		return training.Urgent
	}
	return training.StopCare
}

// gravest is the care that all of the reports together ask for.
func gravest(reports []report) training.Care {
	var most training.Care
	for _, report := range reports {
		switch care := report.care(); {
		case care == training.Urgent:
			return care
		case care == training.StopCare, most == "":
			most = care
		}
	}
	return most
}
