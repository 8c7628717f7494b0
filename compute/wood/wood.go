// Package wood is the species table: names, shrinkage, specific gravity, green moisture, each with its source.
package wood

import "drytally/compute/source"

// Species is one species or commercial group. The zero value (empty Name) is "not said". A figure the table does not
// have is 0, and then its source is the zero Source.
type Species struct {
	Name      string // the table's everyday name, lower case: "white ash"
	Botanical string
	Hardwood  bool
	// Shrinkage from green to ovendry as a share of the green size, 0..0.2; 0 when the table has none.
	Radial, Tangential float64
	ShrinkageSource    source.Source
	// Fiber is the fiber saturation point to compute shrinkage with, in percent: 30, or 22 for the few species named.
	Fiber       float64
	FiberSource source.Source
	// Basic specific gravity (ovendry mass over green volume); 0 when the table has none.
	BasicGravity  float64
	GravitySource source.Source
	// Gravity12 is specific gravity on ovendry mass and volume at 12 % moisture content; 0 when the table has none.
	Gravity12       float64
	Gravity12Source source.Source
	// Green moisture content of heartwood and sapwood, percent; 0 when the table has none.
	GreenHeart, GreenSap float64
	GreenSource          source.Source // of heartwood and sapwood
	// GreenMean is the mean green moisture content of whole wood, percent: another basis, not the mean of the two.
	GreenMean       float64
	GreenMeanSource source.Source
	Group           bool // a commercial group whose figures are a mean, not one species
	Imported        bool // not a wood of North America
	BotanicalStatus source.Status
}
