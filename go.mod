module hopperful

go 1.26
