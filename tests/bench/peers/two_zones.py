"""The two-zone beaker in Python, for the peers: right-hand side, start, doses, and scipy's solve_ivp over them.

Source: the project's own reference integration, written before the Rust core and apart from it; the same code
computed tests/reference/chemistry/traj_*.csv. Left as it was, but for what the peers do not call.
"""

import json, math
import numpy as np
from scipy.integrate import solve_ivp
import chem
from chem import *
# state indices
EP,CP,NP,SP,EB,CB,NB,SB,SED,N0,W,TT,ICE=range(13)
NAMES='E_P Cl_P Na_P S_P E_B Cl_B Na_B S_B S_sed n0 W T m_ice'.split()
DEF=dict(S_eff=85.0,      # m2/g CALIBRATED effective reactive area (BET-like), see model.md
 phi=0.06, tau_mix=2.0,   # plume volume fraction; mixing time constant s (stirred 300 rpm) CALIBRATED
 d_agg=10e-6, phi_agg=0.30, Sh=2.2, p_om=2.0, Om1=2.5, eps_x=1e-6,
 k_nuc=2e-3, lOmc=0.6,    # mol/kgw/s ; log10 critical supersaturation (fresh ppt 1.8e-11/ 7e-12 -> 0.4 ; use 0.6) CALIBRATED
 UA_room=0.55, T_room=294.15, UA_bath=0.0, T_bath=294.15, P_max=0.0, T_set=294.15, Kp=60.0, C_vessel=200.0,
 hA_ice=24.0, m_ice_ref=0.1, v_set=0.0, H_liq=0.09, eta_sed=0.05, iso=0, mt=1, nuc=1)
def area_factor(x,eps): return x/(x+eps)**(1/3)
def rates(s,c,p,x):
    """intrinsic rate per m2 reactive area, mol Mg/m2/s, eq (12)-(16)"""
    k=c.kac; a=s.aH
    if p['mt']:
        d=p['d_agg']*max(x,1e-3)**(1/3); kL=p['Sh']*c.D/d
        chi=(6/(RHO_BRU*p['phi_agg']*p['d_agg']))/(p['S_eff']*1e3)
        g=0.5*kL*chi*c.rho/s.gH
        sq=2*g*a/(k+math.sqrt(k*k+4*g*g*a))
    else: sq=math.sqrt(a)
    O=s.Om; O1=p['Om1']; q=p['p_om']
    f=1-O**q if O<=O1 else 1-(O1**q+q*O1**(q-1)*(O-O1))
    return (k*sq+c.kne)*f
def rhs(t,y,p,dose=None,info=None):
    T=y[TT]; c=th(p['iso'] and p['iso'] or T); Wt=y[W]; ph=p['phi']; Wp=ph*Wt; Wb=Wt-Wp
    d=np.zeros(13)
    St=max(y[SP]+y[SB]+y[SED],0.0); n0=max(y[N0],1e-12); x=St/n0
    per=p['S_eff']*1e3*M_BRU*1/(x+p['eps_x'])**(1/3)   # m2 per mol solid
    sp=[];rr=[]
    for (e,cl,na,so,w) in ((EP,CP,NP,SP,Wp),(EB,CB,NB,SB,Wb)):
        cE,cc,cn=y[e]/w,y[cl]/w,y[na]/w
        s=speciate(cE,cc,cn,(cc-cn-cE)/2,c); sp.append(s)
        r=rates(s,c,p,x); Rz=r*per*max(y[so],0.0)
        nuc=0.0
        if p['nuc']:
            lo=math.log10(max(s.Om,1e-300))-p['lOmc']
            if lo>0: nuc=p['k_nuc']*lo*lo*w
        d[so]+=-Rz+nuc; d[N0]+=nuc; d[e]+=-2*Rz+2*nuc
        rr.append(Rz-nuc)
        if e==EB:
            Rs=r*per*max(y[SED],0.0)*p['eta_sed']; d[SED]-=Rs; d[EB]-=2*Rs; rr.append(Rs)
    Q=ph*(1-ph)*Wt/p['tau_mix']
    for a,b in ((EP,EB),(CP,CB),(NP,NB),(SP,SB)):
        f=Q*(y[a]/Wp-y[b]/Wb); d[a]-=f; d[b]+=f
    st=p['v_set']/p['H_liq']*y[SB]; d[SB]-=st; d[SED]+=st
    ohin=0.0; Qd=0.0
    if dose is not None:
        f=dose; d[CP]+=f['Cl']; d[NP]+=f['Na']; d[EP]+=f['Cl']-f['Na']; d[SP]+=f.get('S',0); d[N0]+=f.get('S',0)
        wq=f['w']; d[W]+=wq; ohin=f['Na']; Qd=wq*CP_W*(f.get('T',294.15)-T)
        for a,b in ((EP,EB),(CP,CB),(NP,NB),(SP,SB)):
            o=(1-ph)*wq*y[a]/Wp; d[a]-=o; d[b]+=o
    # heat
    R_tot=sum(rr)
    dOH=sp[0].dohdE*d[EP]+sp[1].dohdE*d[EB]
    N=ohin-dOH
    d[W]+=18.01528e-3*(2*R_tot+N)      # product water, eq (21)
    q=-DH_BRU*R_tot-DH_W25*N+p['UA_room']*(p['T_room']-T)+p['UA_bath']*(p['T_bath']-T)+min(max(p['Kp']*(p['T_set']-T),0),p['P_max'])+Qd
    if y[ICE]>0:
        Tm=273.15-1.86*(2*(y[CB]+y[NB])/Wb)
        xi=y[ICE]/p['m_ice_ref']; m=p['hA_ice']*xi/(xi+1e-6)**(1/3)*(T-Tm)/L_ICE
        d[ICE]-=m; d[W]+=m; q-=m*(L_ICE+CP_W*(T-Tm))
        # melt water enters both zones pro rata (amounts unchanged)
    if not p['iso']: d[TT]=q/(Wt*CP_W+p['C_vessel'])
    if info is not None: info.update(sp=sp,R=R_tot,q=q)
    return d
def start(T,Wkg,n_s,p,m_ice=0.0,equilibrate=True):
    """water + suspension, pre-equilibrated (saturated) and uniformly mixed"""
    y=np.zeros(13); ph=p['phi']; x=0.0
    if equilibrate:
        s,x=equil(T,Wkg,0,0,n_s)
    y[EP],y[EB]=-2*x*ph,-2*x*(1-ph); S=n_s-x; y[SP],y[SB]=S*ph,S*(1-ph); y[N0]=n_s; y[W]=Wkg; y[TT]=T; y[ICE]=m_ice
    return y
def dose_hcl(mL,cM,dt,T=294.15): return dict(Cl=mL*1e-3*cM/dt,Na=0.0,w=mL*water_hcl(cM)/dt,T=T)
def dose_naoh(mL,cM,dt,T=294.15): return dict(Cl=0.0,Na=mL*1e-3*cM/dt,w=mL*water_naoh(cM)/dt,T=T)
ATOL=np.array([1e-14,1e-12,1e-12,1e-13,1e-14,1e-12,1e-12,1e-13,1e-13,1e-13,1e-12,1e-9,1e-12])
def run(y0,events,tend,p,method='Radau',rtol=1e-9,atol=None,tout=None,stats=None):
    """events: list of (t,dose,dt). returns t,Y at tout"""
    atol=ATOL if atol is None else atol
    br=[0.0]
    segs=[]; t=0.0
    for (te,dz,dt) in sorted(events,key=lambda e:e[0]):
        if te>t: segs.append((t,te,None))
        segs.append((te,te+dt,dz)); t=te+dt
    if tend>t: segs.append((t,tend,None))
    tout=np.arange(0,tend+1e-9,1.0) if tout is None else np.asarray(tout,float)
    Y=np.zeros((len(tout),len(y0))); y=np.array(y0,float); nf=0
    Y[tout<=0]=y
    for a,b,dz in segs:
        m=(tout>a)&(tout<=b); te=tout[m]; ev=np.append(te,b) if (len(te)==0 or te[-1]<b) else te
        fs=0.05 if dz is None else min(0.05,(b-a)/4)
        r=solve_ivp(rhs,(a,b),y,method=method,t_eval=ev,rtol=rtol,atol=atol,args=(p,dz),first_step=1e-3)
        if not r.success: raise RuntimeError(r.message)
        nf+=r.nfev; Y[m]=r.y.T[:len(te)]; y=r.y[:,-1].copy()
    if stats is not None: stats['nfev']=nf
    return tout,Y
def observe(y,p):
    c=th(p['iso'] and p['iso'] or y[TT]); o=[]
    for (e,cl,na,w) in ((EP,CP,NP,p['phi']*y[W]),(EB,CB,NB,(1-p['phi'])*y[W])):
        cE,cc,cn=y[e]/w,y[cl]/w,y[na]/w; o.append(speciate(cE,cc,cn,(cc-cn-cE)/2,c))
    return o
def pHs(Y,p): return np.array([observe(y,p)[1].pH for y in Y])
def forget_temperatures():
    """Empty the cache of temperature-only constants, so that no run profits from the one before it."""
    chem._c.clear()
def read_case(path):
    """The case, the parameters and the columns of a traj file."""
    with open(path,encoding='utf-8') as file: lines=file.read().splitlines()
    header=lambda word: json.loads(next(l for l in lines if l.startswith('# '+word+' '))[len(word)+3:])
    names,*rows=[l.split(',') for l in lines if l and not l.startswith('#')]
    return header('case'),header('params'),dict(zip(names,np.array(rows,dtype=float).T))
