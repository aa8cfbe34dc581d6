g21 g0 x1
m5 m3
g1 f1 x[[[1]]]
m2
