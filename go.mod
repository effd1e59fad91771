module rungbook

go 1.26
