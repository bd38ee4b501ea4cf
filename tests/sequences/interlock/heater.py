"""A made-up design that no lamp can judge: a hot plate of 500 W at 230 V."""

HEATER = """\
equipment: tb-ht1
title: Hot plate of the archive's kitchen
class: I
supply: {voltage: 230 V, frequency: 50 Hz, power: 500 W, kind of load: heater}
cord: {length: 1.8 m, area: 0.75 mm², cores: 3}
plug: rewirable
bare metal: true
connectors: {plug: gb-13a-plug}
points: {case: bare metal of the case}
circuit:
  - fuse: plug-fuse
    between: [plug.L, cord.L]
    rating: 3 A
    place: plug
    say: the fuse in the plug
  - link: cord-live
    between: [cord.L, mains.L]
    cord core: true
    say: the live core of the cord
  - link: cord-neutral
    between: [plug.N, mains.N]
    cord core: true
    say: the neutral core of the cord
  - earth: cord-earth
    between: [plug.E, chassis]
    cord core: true
    say: the earth core of the cord
  - earth: case-bond
    between: [chassis, case]
    say: the bond to the case
  - resistor: element
    between: [mains.L, mains.N]
    resistance: 106 ohm ± 10 %
    say: the heating element
  - barrier: mains-to-earth
    between: [mains, case]
    at least: 1 Mohm
    say: the insulation between mains and case
"""
