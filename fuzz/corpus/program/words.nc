%
n0010 g20 (expression test) g91 g0 x [1 + 2] #1=2.0
##1 = 0.375 #3=[ 1 MOD 2 ** 3 - 4 / 5 OR 1 XOR 0 AND 1]
x #2 #4=atan[1.7321]/[1.0] y sqrt[3**2+4**2]
g10 l2 p2 x1 y1 g55 g92
g92 x0 y0 z0
g92.1
g92.2 g92.3
g93 g1 f2 x1 y2 z3
g18 g94 f10 g2 x1 z1 i0 k.5
g19 g3 y1 z1 r3
g53 g0 x#5221 y#5211
t1 m6 m3 s1000 m7 m48 g64 g43 h1 g49 a1 b2 c3
/ x1
%
