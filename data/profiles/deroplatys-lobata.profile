# SPDX-License-Identifier: GPL-3.0-or-later
# Malaysian dead leaf mantis.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=Deroplatys lobata
common=Malaysian dead leaf mantis
common_de=Malaysische Totblattmantis
group=humid
damp_substrate=true

[clock]
t0=12
t0.from=ours
topt=28
topt.from=ours
tflat=30
tflat.from=ours
tmax=38
tmax.from=ours

[development]
stage_days=14;14;16;18;21;24;27
stage_days.from=ours
stage_days.note=No table was at hand: the general ladder drawn out, a little longer than keepers' ranges.
stage_days.note_de=Es lag keine Tafel vor: die allgemeine Leiter gestreckt, etwas länger als die Spannen der Halter.
before_subadult_days=29
before_subadult_days.from=ours
subadult_days=35
subadult_days.from=practice
male_factor=1
male_factor.from=ours
moults_male=6:.15;7:.70;8:.15
moults_male.from=ours
moults_male.note=Keepers say seven for males, eight for females; the spread is ours.
moults_male.note_de=Halter nennen sieben für Männchen, acht für Weibchen; die Streuung ist unsere.
moults_female=7:.15;8:.70;9:.15
moults_female.from=ours
moults_female.note=Keepers say seven for males, eight for females; the spread is ours.
moults_female.note_de=Halter nennen sieben für Männchen, acht für Weibchen; die Streuung ist unsere.
sd_room=.18
sd_room.from=ours
sd_lot=.10
sd_lot.from=ours
sd_animal=.10
sd_animal.from=ours
sd_stage=.19
sd_stage.from=ours

[size]
adult_male_mm=45
adult_male_mm.from=practice
adult_female_mm=67
adult_female_mm.from=practice
hatchling_mm=14
hatchling_mm.from=practice
hatchling_mm.note=Stretched up to 15 mm.
hatchling_mm.note_de=Gestreckt bis 15 mm.
ratio_body=1.29
ratio_body.from=measured:faber
ratio_head=1.20
ratio_head.from=ours

[sex]
male_prior=.5
male_prior.from=ours
readable_from=3
readable_from.from=practice
readable_from.note=Never before: up to L3 both sexes show eight plates.
readable_from.note_de=Nie früher: Bis L3 zeigen beide Geschlechter acht Platten.
plates_male=8
plates_male.from=practice
plates_female=6
plates_female.from=practice
tegmen_pronotum_male=2.55;.20
tegmen_pronotum_male.from=ours
tegmen_pronotum_female=2.0;.25
tegmen_pronotum_female.from=ours

[care]
feed_m0_1=1;2
feed_m0_1.from=practice
feed_m2_3=2;3
feed_m2_3.from=practice
feed_m4=2;3
feed_m4.from=practice
feed_adult_female=2;3
feed_adult_female.from=practice
feed_adult_male=3;4
feed_adult_male.from=practice
feed_gravid=1;2
feed_gravid.from=practice
mist=1;2
mist.from=practice
mist.other=2;3
mist.other.from=practice
mist.note=Daily, or two to three times a week.
mist.note_de=Täglich oder zwei- bis dreimal die Woche.
clean=7;8
clean.from=practice
touch_m3=1
touch_m3.from=practice
touch_m4=3
touch_m4.from=practice
touch_subadult=4
touch_subadult.from=practice
touch_adult=7
touch_adult.from=practice
food_m3=1;1
food_m3.from=practice
food_m4=2;2
food_m4.from=practice
food_subadult=2;2
food_subadult.from=practice
food_adult=3;4
food_adult.from=practice
subadult_fast_days=10
subadult_fast_days.from=practice
split_moults=3
split_moults.from=practice
split_moults.other=-1
split_moults.other.from=practice
split_moults.note=A breeding centre parts them at L4–L5; some keep them together to adult.
split_moults.note_de=Eine Zuchtstation trennt bei L4–L5; manche halten sie bis zum Ende zusammen.
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=24;30
day.from=practice
day.other=28;30
day.other.from=practice
day.note=24–30 °C, or near 30 °C.
day.note_de=24–30 °C oder nahe 30 °C.
night=18;22
night.from=practice
spot=-;-
spot.from=practice
look_above=32
look_above.from=practice
look_below=17
look_below.from=practice
humidity=60;80
humidity.from=practice
humidity.other=50;80
humidity.other.from=practice
humidity.note=60–80 %, or from 50 % on.
humidity.note_de=60–80 % oder ab 50 %.

[adult]
receptive_male=10;40
receptive_male.from=practice
receptive_female=14;35
receptive_female.from=practice
life_male=30;90
life_male.from=practice
life_female=90;240
life_female.from=practice

[eggs]
incubation=42;56
incubation.from=practice
young=20;60
young.from=practice
guards=true
guards.note=Three of four kept kinds stay on the egg case.
guards.note_de=Drei von vier gehaltenen Arten bleiben auf der Oothek.
rest=false

[cue shield]
says=either
odds=4
odds.from=ours
from_moults=3
from_moults.from=practice
from_moults.other=4
from_moults.other.from=practice
from_moults.note=Wide and angular in females, narrow, a rounded diamond in males; from L4.
from_moults.note_de=Bei Weibchen breit und eckig, bei Männchen schmal, eine runde Raute; ab L4.

[sources]
faber=Faber 1994, J. Zool. (London), doi 10.1111/j.1469-7998.1994.tb01568.x: mean length ratio between successive instars of mantises 1.29 (an average over mantises, not of this species)
