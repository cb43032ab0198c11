"""One module a version of the register. What has been released is never changed: a register may be of any of them."""
