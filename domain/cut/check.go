package cut

func checkHole(c *Cut, f *Faults)    {}
func checkMilling(c *Cut, f *Faults) {}
func checkTurning(c *Cut, f *Faults) {}
