from tests.proof.mutation.mutants import mutants
E=[
("blending","settled","state.temperature <= boiling + ROUNDING",["`state.temperature <= boiling + ROUNDING` → `state.temperature < boiling + ROUNDING`"],
 "It matters for what is above its boiling point by a thousand-millionth of a kelvin to the last digit, of which next to nothing boils off."),
("meeting","_between","t = liquid.temperature(h) if",["`h > liquid.enthalpy(0.0)` → `h >= liquid.enthalpy(0.0)`"],
 "A liquid with the enthalpy that it has at 0 °C is at 0 °C either way."),
("meeting","_along","if b[0] - a[0] <= 4.0 * _APART:",["`4.0` → `4.4`"],
 "Numerical: halfway between strengths so near each other a mixture is warmer than both by some hundred-thousandths of a kelvin."),
("meeting","_along","inner = [w for w",["`a[0] + _APART < w < b[0] - _APART` → `a[0] + _APART <= w < b[0] - _APART`"],
 "Numerical: one more strength would be tried where it lies 1e-4 from a part's to the last digit."),
("meeting","_along","if over(here) > 0.0 > over(after):",["`over(here) > 0.0 > over(after)` → `over(here) > 0.0 >= over(after)`"],
 "What is just at its boiling point, to the last digit, has been tried already."),
("batch_spread","","_WEAK: Final = 1e-3",["`0.001` → `0.0011`"],
 "Numerical: from 1e-4 up a slope may be taken downwards as well as upwards."),
("batch_spread","heat_per_strength","step = -_STEP if",["`blend.stock.mass_fraction > _WEAK` → `blend.stock.mass_fraction >= _WEAK`"],
 "Numerical: at 0.1 % a slope may be taken downwards as well as upwards."),
("batch_blend","Blend.enthalpy","if share < 1.0:",["`share < 1.0` → `share <= 1.0`","`1.0` → `1.1`"],
 "It saves time alone: where all of the stock is thinned, none of what is not is added."),
("batch_blend","Blend.enthalpy","if share > 0.0:",["`share > 0.0` → `share >= 0.0`"],
 "It saves time alone: where none of the stock is thinned, none of what is thinned is added."),
("batch_blend","Blend.temperature_of","for _ in range(40):",["`40` → `41`","`40` → `39`"],
 "Numerical: a handful of steps is enough, and a heat beyond the ends stays at an end at every one."),
("batch_blend","Blend.temperature_of","if abs(step) < 1e-11:",["`abs(step) < 1e-11` → `abs(step) <= 1e-11`","`1e-11` → `1e-08`"],
 "Numerical: a step of Newton's method leaves about a thousandth of its square, and that of 1e-8 K is nothing."),
("batch_blend","meet","if blend.ice > 0.0 and",["`blend.ice > 0.0` → `blend.ice >= 0.0`"],
 "Where there is no ice, more than there is would have to be left."),
("batch_blend","meet","if short > 0.0 and",["`short > 0.0` → `short >= 0.0`"],
 "Where no heat is missing at 0 °C to the last digit, it comes to 0 °C without ice either way."),
("batch_blend","","_START: Final = 35.0",["`35.0` → `38.5`"],"Numerical: Newton's method comes to the same from either."),
("batch_blend","","_STEP: Final = 0.01",["`0.01` → `0.011`"],"Numerical: over a hundredth of a kelvin the heat capacity of ice changes by a hundred-thousandth."),
("batch_blend","Blend.__init__","Dry(*(fsum(column)",["`True` → `False`"],"What is dissolved has as many components in every liquid."),
("batch_blend","meet_melting","if with_melting(above) <= heat:",["`with_melting(above) <= heat` → `with_melting(above) < heat`"],
 "Where no fat melts, the balance that is solved then is the same, and closes at the same temperature."),
("batch_blend","meet_melting","if with_melting(low) >= heat:",["`with_melting(low) >= heat` → `with_melting(low) > heat`"],
 "What is as cold as all of its fats and -28 °C is refused before; at -28 °C to the last digit the balance closes there."),
("batch_blend","meet_melting","return low",["`return low` → `return None`"],
 "It keeps the search from being asked what lies at its very end, which rounding alone could bring about."),
("batter","","_ALL: Final = (20.0",["`20.0` → `22.0`"],
 "It moves the interval by 1.4 of its 36 kg/m3, and the standards' limits lie within either."),
("adjustment","added_mass",'require("difference"',["`1.0` → `1.1`"],"No two mass fractions differ by more than 1."),
("dilution","","_PROPORTIONS: Final = 20",["`20` → `19`","`20` → `21`"],
 "Numerical: between places so near each other the highest is found as well from one as from two more or less."),
("dilution","dilute","hottest = max(temperature",["`meeting.peak_share > whole` → `meeting.peak_share >= whole`"],
 "Where the peak is the whole itself, both are the same temperature."),
("dilution","_Meeting.__init__","near = [",["`True` → `False`"],"There are as many temperatures as proportions."),
("dilution","_highest","best = max(range",["`1` → `0`"],
 "The last place is never the middle of a search: that is moved in by one, to the neighbour, which is the next best."),
("dilution","_highest","best = min(max(best, 1)",["`1` → `0`"],
 "The parabola then has its third place beyond the end, with the height of the other end: it finds the highest beside the end to 0.02 K, too, and in thousands of random dilutions was never 0.001 K worse."),
]
import json,sys,textwrap
res=json.load(open("tests/proof/mutation/results.json"))
out=[];done=set()
def q(s): return json.dumps(s,ensure_ascii=False) if "'" in s else ("'"+s+"'" if '"' in s else '"'+s+'"')
for m,f,start,muts,why in E:
    full="service.chemistry."+m
    names=[x.name for x in mutants(open(f"service/chemistry/{m}.py").read()) if x.name.function==f and x.name.line.startswith(start if not start.startswith("state.t") else "if "+start)]
    line={n.line for n in names}; assert len(line)==1,(m,f,start,line)
    for mu in muts: assert any(n.mutation==mu for n in names),(m,mu,[n.mutation for n in names])
    live={tuple(s) for s in res.get(full,{}).get("survivors",[])}
    muts=[mu for mu in muts if (f,next(iter(line)),mu) in live]
    if not muts: print("no survivor:",m,f,start,file=sys.stderr); continue
    done|={(full,f,next(iter(line)),mu) for mu in muts}
    text=textwrap.wrap(why,116); w=q(why) if len(why)<112 else '"""'+"\n".join(textwrap.wrap(why,112))+'"""'
    out.append(f'\n[[mutant]]\nmodule = "{full}"\nfunction = "{f}"\nline = {q(next(iter(line)))}\nmutations = [{", ".join(q(x) for x in muts)}]\nwhy = {w}\n')
for full,r in res.items():
    if full.split(".")[-1] in "blending meeting batch_spread batch_blend batter air adjustment dilution".split():
        for s in r["survivors"]:
            if (full,*s) not in done: print("UNEXPLAINED",full,s,file=sys.stderr)
import subprocess
base=subprocess.run(["git","show","HEAD:tests/proof/mutation/explained.toml"],capture_output=True,text=True).stdout
if len(sys.argv)>1: open("tests/proof/mutation/explained.toml","w").write(base+"".join(out))
