package season

import (
	"pipstake/ids"
	"pipstake/ids/registry"
)

// label looks at how long a label has stood outdoors: one in a pot since the
// pot was sown, one beside a seedling since it was pricked out, one on a branch
// since it was printed; none before it was printed, and none longer than what
// it stands for is there. Bags stay indoors.
func (s *schedule) label(l registry.Label, practice Practice) {
	task := Task{Kind: LabelWorn, ID: l.ID, Label: l, Since: l.Printed}
	switch l.Face {
	case registry.StakeFace:
		pot, _ := s.r.Pot(l.ID)
		if _, ended := PotEnding(s.r, practice, pot, s.on); ended {
			return
		}
		task.Place, task.Since = pot.Place, later(l.Printed, pot.Sown)
	case registry.SeedlingFace:
		seedling, _ := s.r.Seedling(l.ID)
		if seedling.Fate != registry.Growing {
			return
		}
		task.Place, task.Since = seedling.Place, later(l.Printed, seedling.Pricked)
	case registry.BranchFace:
		var harvested bool
		if task.Until, harvested = s.harvestOf(l); harvested {
			return
		}
	case registry.BagFace:
		return
	}
	if task.Since.IsZero() {
		return
	}
	task.From = task.Since.AddDays(practice.For(l.ID).Labels.Lasts(l.Stock))
	if task.Until.IsZero() || !task.Until.Before(task.From) {
		s.add(task)
	}
}

// harvestOf is the last day on which the fruit of a cross may hang; zero where
// there is nothing to tell it by. It is true where the fruit hangs no more:
// nothing was set, it was picked, or its seeds were taken out.
func (s *schedule) harvestOf(l registry.Label) (last registry.Date, over bool) {
	const onTheTree = 270 // days from blossom that no apple outlasts: common knowledge
	cross, _ := s.r.Cross(l.ID.At(ids.CrossLevel))
	if cross.Fate != registry.Growing || !cross.Picked.IsZero() {
		return last, true
	}
	for _, lot := range s.r.LotsOf(cross.ID) {
		if lot.State != registry.Void && !lot.Extracted.IsZero() {
			return last, true
		}
	}
	blossom := cross.Pollinated
	if blossom.IsZero() {
		blossom = l.Printed
	}
	if blossom.IsZero() {
		return last, false
	}
	return blossom.AddDays(onTheTree), false
}
