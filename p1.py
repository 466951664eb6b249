import math, planform as pf
from planform import *
def poly(pts): return Contour([Line(a,b) for a,b in zip(pts,pts[1:]+pts[:1])])
def plate(pts, holes=(), **k): return ProfileSet([Profile(poly(pts), list(holes))], **k)
def notch(w, depth=10): # plate 40x30 with notch of width w at top
    c=20
    return plate([(0,0),(40,0),(40,30),(c+w/2,30),(c+w/2,30-depth),(c-w/2,30-depth),(c-w/2,30),(0,30)])
def run(name,f):
    try:
        r=f()
        print(name,'->',[ (len(p.outer.curves),[len(h.curves) for h in p.holes]) for p in r.profiles], 'area',round(r.area,6), r.notes[-3:])
    except Exception as e: print(name,'ERR',type(e).__name__,e)
K=0.2
for d in (-1e-3,-1e-6,-1e-9,-1e-11,0,1e-11,1e-10,1e-9,1e-8,1e-7,1e-6,1e-5,3e-5,1e-4,2e-4,5e-4,1e-3):
    run(f'notch K+{d:g}', lambda: notch(K+d).as_cut(kerf=K))
for d in (-1e-6,0,1e-9,1e-7,1e-6,1e-5,3e-5,1e-4,1e-3):
    w=K+d
    h=poly([(10,10),(10,10+w),(20,10+w),(20,10)])
    run(f'slot K+{d:g}', lambda: plate([(0,0),(40,0),(40,30),(0,30)],[h]).as_cut(kerf=K))
    c=Contour([Arc((20,15),w/2)])
    run(f'circle K+{d:g}', lambda: plate([(0,0),(40,0),(40,30),(0,30)],[c]).as_cut(kerf=K))
