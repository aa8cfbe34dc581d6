(MSG, letter é)
G21 G0 X+0. 12 34Y 7
M2