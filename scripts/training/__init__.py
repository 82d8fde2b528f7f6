"""How the reader of answers is made: data, noise, network, fit, export."""
