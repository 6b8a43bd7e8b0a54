package reading

import (
	"pipstake/ids"
	"pipstake/ids/registry"
)

// InUse reports whether a live label has work to do: what it is for grows, a
// branch tag hangs until the harvest, and a bag label holds as long as there is
// seed in the bag. The labels of grafted copies outlive the seedling, unless it
// was culled.
func InUse(r *registry.Registry, l registry.Label) bool {
	if l.State != registry.LabelLive {
		return false
	}
	if l.Face == registry.SeedlingFace && l.Copy > 0 {
		end, _ := r.EndOf(l.ID)
		return r.Status(l.ID) == registry.Issued && end.How != registry.Culled
	}
	if !r.Grows(l.ID) {
		return false
	}
	switch l.Face {
	case registry.BranchFace:
		return !harvested(r, l.ID)
	case registry.BagFace:
		left, err := r.LeftToSow(l.ID)
		return err != nil || !left.Known || left.N > 0
	}
	return true
}

// harvested reports whether the fruit of a cross is off the tree: it was picked,
// or opened.
func harvested(r *registry.Registry, cross ids.ID) bool {
	if c, _ := r.Cross(cross); !c.Picked.IsZero() || c.Fruit.Known {
		return true
	}
	for _, l := range r.LotsOf(cross) {
		if l.State == registry.Live && (l.Seeds.Known || !l.Extracted.IsZero()) {
			return true
		}
	}
	return false
}
