"""The model's chemistry in Python, for the peers: activities, Kw, solubility, speciation, stock solutions.

Source: the project's own reference integration, written before the Rust core and apart from it; the same code
computed the trajectories in tests/reference/chemistry. Left as it was, but for what the peers do not call. The
constants' publications are named beside the core's constants (src/constants.rs).

Basis: molality (mol per kg water), moles, kg, K, s, J.
"""

import math
R=8.31446261815324; LN10=math.log(10.0)
# ---------- constants (sources: constants.md) ----------
M_BRU=58.3197e-3; RHO_BRU=2370.0; CP_W=4184.0; L_ICE=333.55e3; CP_ICE=2100.0
LOGK_BRU25=16.84; DH_BRU=-113.996e3          # Mg(OH)2+2H+=Mg+2+2H2O  minteq.v4 / wateq4f
LOGK_MGOH25=-11.44; DH_MGOH=15.952e3*4.184   # Mg+2+H2O=MgOH+ + H+     phreeqc.dat
A0={'H':9.0,'OH':3.5,'Mg':5.5,'MgOH':6.5,'Na':4.08,'Cl':3.63}   # angstrom, phreeqc.dat
BD={'H':0.0,'OH':0.0,'Mg':0.20,'MgOH':0.0,'Na':0.082,'Cl':0.017}
LK_ACID,EA_ACID,N_ACID=-4.73,59.0e3,0.5      # Palandri & Kharaka 2004 table 32
LK_NEUT,EA_NEUT=-8.24,42.0e3
D_H25=9.311e-9
DH_W25=-55.815e3                              # H+ + OH- -> H2O
def rho_w(T):
    """Kell 1975, kg/m3, 0-100 C (ITS-68), T in K"""
    t=T-273.15
    return (999.83952+16.945176*t-7.9870401e-3*t*t-46.170461e-6*t**3+105.56302e-9*t**4-280.54253e-12*t**5)/(1+16.879850e-3*t)
def mu_w(T):
    """Vogel-type (IAPWS-consistent within 1% 0-60C), Pa s"""
    return 2.414e-5*10**(247.8/(T-140.0))
def eps_w(T):
    """Bradley & Pitzer 1979 at 1 bar (as in PHREEQC)"""
    U=(3.4279e2,-5.0866e-3,9.4690e-7,-2.0525,3.1159e3,-1.8289e2,-8.0325e3,4.2142e6,2.1417)
    d1000=U[0]*math.exp(U[1]*T+U[2]*T*T); C=U[3]+U[4]/(U[5]+T); B=U[6]+U[7]/T+U[8]*T
    return d1000+C*math.log((B+1.01325)/(B+1000.0))
def AB(T):
    e=eps_w(T); r=rho_w(T)/1000.0
    return 1.82483e6*math.sqrt(r)/(e*T)**1.5, 50.2916*math.sqrt(r)/math.sqrt(e*T)
def pKw(T):
    """IAPWS R11-07(2019) / Bandura & Lvov 2006"""
    r=rho_w(T)/1000.0
    Z=r*math.exp(-0.864671+8659.19/T-22786.2/T**2*r**(2/3))
    return (-12*(math.log10(1+Z)-Z/(1+Z)*r*(0.642044-56.8534/T-0.375754*r))
            +0.61415+48251.33/T-67707.93/T**2+10102100.0/T**3+2*math.log10(18.015268e-3))
def vH(lk,dH,T): return lk-dH/(R*LN10)*(1/T-1/298.15)
def logK_bru(T): return vH(LOGK_BRU25,DH_BRU,T)
def logKsp(T): return logK_bru(T)-2*pKw(T)
def logK_mgoh(T): return vH(LOGK_MGOH25,DH_MGOH,T)
class Th:
    """temperature-only constants, recomputed when T moves (cheap in Rust: cache, refresh if |dT|>0.01 K; here exact)"""
    __slots__=('T','A','B','kw','kb','km','rho','kac','kne','D')
    def __init__(s,T):
        s.T=T; s.A,s.B=AB(T); s.kw=10**(-pKw(T)); s.kb=10**logK_bru(T); s.km=10**logK_mgoh(T); s.rho=rho_w(T)
        a=-1/R*(1/T-1/298.15)
        s.kac=10**LK_ACID*math.exp(EA_ACID*a); s.kne=10**LK_NEUT*math.exp(EA_NEUT*a)
        s.D=D_H25*(T/298.15)*(mu_w(298.15)/mu_w(T))
_c={}
def th(T):
    k=T
    v=_c.get(k)
    if v is None:
        if len(_c)>20000: _c.clear()
        v=_c[k]=Th(T)
    return v
def lg(sp,z,I,sI,c): return -c.A*z*z*sI/(1+c.B*A0[sp]*sI)+BD[sp]*I
class Spec: __slots__=('h','oh','mg','mgoh','I','aH','pH','Om','gMg','gOH','aw','gH','dohdE')
def speciate(E,cl,na,mgT,c,tol=1e-13):
    """E = cl-na-2 mgT (acid excess, mol/kgw) carried separately to avoid cancellation. eq (3)-(8)"""
    s=Spec(); mgT=max(mgT,0.0); I=0.5*(cl+na+4*mgT)+1e-12
    for it in range(40):
        sI=math.sqrt(I)
        gH=10**lg('H',1,I,sI,c); gOH=10**lg('OH',1,I,sI,c); gMg=10**lg('Mg',2,I,sI,c); gM1=10**lg('MgOH',1,I,sI,c)
        aw=1-0.017*(cl+na+mgT+abs(E))
        kw=c.kw*aw/(gH*gOH); q=c.km*gMg*aw/(gM1*gH)
        ke=kw+mgT*q
        r=math.sqrt(E*E+4*ke)
        h=(E+r)/2 if E>=0 else 2*ke/(r-E)
        for k in range(30):            # Newton in u=ln h on f=h-kw/h-MgT q/(h+q)-E (strictly increasing)
            f=h-kw/h-mgT*q/(h+q)-E; fp=h+kw/h+mgT*q*h/(h+q)**2
            du=-f/fp
            du=max(-2.0,min(2.0,du)); h*=math.exp(du)
            if abs(du)<1e-14: break
        oh=kw/h; mgoh=mgT*q/(h+q); mg=mgT-mgoh
        In=0.5*(cl+na+h+oh+mgoh+4*mg)
        if abs(In-I)<=tol*max(In,1e-9): I=In; break
        I=In
    s.h=h;s.oh=oh;s.mg=mg;s.mgoh=mgoh;s.I=I;s.aH=h*gH;s.pH=-math.log10(h*gH);s.gMg=gMg;s.gOH=gOH;s.aw=aw;s.gH=gH
    s.dohdE=-(oh+mgT*q*h/(h+q)**2)/(h+oh+mgT*q*h/(h+q)**2)
    s.Om=mg*gMg*aw*aw/(s.aH*s.aH)/c.kb
    return s
def equil(T,W,ncl,nna,nbru,nmg_extra=0.0):
    """closed-system equilibrium with up to nbru mol brucite (+nmg_extra mol MgCl2 whose Cl is inside ncl)."""
    c=th(T)
    def om(x):
        mgT=(x+nmg_extra)/W; return speciate(ncl/W-nna/W-2*mgT,ncl/W,nna/W,mgT,c)
    tot=nbru
    s=om(tot)
    if s.Om<=1: return s,tot
    lo,hi=-nmg_extra+1e-16,tot
    if lo>0: lo=0
    for i in range(200):
        m=0.5*(lo+hi)
        if om(m).Om>1: hi=m
        else: lo=m
        if hi-lo<1e-16+1e-14*abs(hi): break
    x=0.5*(lo+hi); return om(x),x
# stock solutions, 20 C, (c mol/L) -> density g/mL, water kg per mL
def rho_hcl(c): return 0.9982+0.0172*c-0.00013*c*c
def rho_naoh(c): return 0.9982+0.0415*c-0.0009*c*c
def water_hcl(c): return (rho_hcl(c)-c*36.461e-3)/1000
def water_naoh(c): return (rho_naoh(c)-c*39.997e-3)/1000
