package main

// people are given names of the stories that corpora are told in.
var people = set("ilda tome priya wen sanna bako mirela")
