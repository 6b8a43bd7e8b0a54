package registry_test

import (
	"fmt"
	"os"

	"pipstake/ids/registry"
)

// A registry is a folder. Change saves all that its work does, or nothing.
func Example() {
	dir, err := os.MkdirTemp("", "orchard")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	if err := registry.Init(dir); err != nil {
		fmt.Println(err)
		return
	}
	err = registry.Change(dir, registry.Options{}, func(r *registry.Registry) error {
		pollinated, err := registry.ParseDate("2026-05-02")
		if err != nil {
			return err
		}
		cross, err := r.AddCross(registry.NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Pollinated: pollinated})
		if err != nil {
			return err
		}
		_, err = r.AddLots(cross.ID, 2, pollinated)
		return err
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := registry.Open(dir)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range r.Crosses() {
		fmt.Println(c.ID, c.SeedParent, "×", c.PollenParent, c.Pollinated)
		for _, lot := range r.LotsOf(c.ID) {
			fmt.Println(lot.ID.WithCheck())
		}
	}
	// Output:
	// 2026X001 Larkfield Tessel × Tarn Amber 2026-05-02
	// 2026X001-A.0
	// 2026X001-B.Y
}
