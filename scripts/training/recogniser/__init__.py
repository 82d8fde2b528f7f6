"""How the recogniser's low-rank changes are made: sentences, voices, sounds, network, fit."""
