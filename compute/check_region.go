package compute

import (
	"strings"

	"drytally/compute/air"
	"drytally/compute/finding"
)

// checkRegions: a region the handbook's table doesn't have. Every load without a limit of its own would be "not shown", and the load's
// use would seem to be the reason.
func checkRegions(x *index) {
	unknown := func(region string, at finding.Place) {
		if region == "" || at.File == "" {
			return
		}
		if _, _, _, _, ok := air.Band("interior", region); !ok {
			x.say("J045", at, region, "write one of: "+strings.Join(air.Regions(), "; "), "%q is no region of the handbook's table, so it gives no moisture content for any use", region)
		}
	}
	for _, u := range x.job.Settings.Used {
		if u.Name == "region" {
			unknown(x.job.Settings.Region, u.Place)
		}
	}
	for i := range x.job.Loads {
		if l := &x.job.Loads[i]; l.Region != "" {
			unknown(l.Region, l.Origin.At("region"))
		}
	}
}
