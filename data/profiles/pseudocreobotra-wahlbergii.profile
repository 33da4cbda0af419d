# SPDX-License-Identifier: GPL-3.0-or-later
# Spiny flower mantis.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=Pseudocreobotra wahlbergii
common=spiny flower mantis
common_de=Stachelige Blütenmantis
group=humid

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
stage_days=12;12;13;15;17;20
stage_days.from=practice
stage_days.note=Within the ranges that keepers use at 25–28 °C.
stage_days.note_de=In den Spannen, mit denen Halter bei 25–28 °C rechnen.
before_subadult_days=21
before_subadult_days.from=practice
subadult_days=29
subadult_days.from=practice
male_factor=1
male_factor.from=ours
moults_male=5:.15;6:.70;7:.15
moults_male.from=ours
moults_male.note=Keepers say six for males, seven for females; the spread is ours.
moults_male.note_de=Halter nennen sechs für Männchen, sieben für Weibchen; die Streuung ist unsere.
moults_female=6:.20;7:.70;8:.10
moults_female.from=ours
moults_female.note=Keepers say six for males, seven for females; the spread is ours.
moults_female.note_de=Halter nennen sechs für Männchen, sieben für Weibchen; die Streuung ist unsere.
sd_room=.18
sd_room.from=ours
sd_lot=.10
sd_lot.from=ours
sd_animal=.10
sd_animal.from=ours
sd_stage=.19
sd_stage.from=ours

[size]
adult_male_mm=38
adult_male_mm.from=practice
adult_female_mm=45
adult_female_mm.from=practice
ratio_body=1.29
ratio_body.from=measured:faber
ratio_head=1.20
ratio_head.from=ours

[sex]
male_prior=.5
male_prior.from=ours
readable_from=3
readable_from.from=practice
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
mist=2;4
mist.from=practice
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
split_moults.note=Small groups of males; the young only while they are full.
split_moults.note_de=Kleine Gruppen von Männchen; Junge nur, solange sie satt sind.
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=25;32
day.from=practice
night=20;24
night.from=practice;ours
night.note=Keepers: 20 °C or more.
night.note_de=Halter: 20 °C oder mehr.
spot=-;-
spot.from=practice
look_above=35
look_above.from=ours
look_below=17
look_below.from=practice
humidity=50;60
humidity.from=practice
humidity.other=50;80
humidity.other.from=practice
humidity.note=50–60 %, or 50 % by day and 60–80 % by night.
humidity.note_de=50–60 % oder 50 % am Tag und 60–80 % in der Nacht.

[adult]
receptive_male=10;40
receptive_male.from=practice
receptive_female=10;14
receptive_female.from=practice
receptive_female.note=Ten to fourteen days are told of this genus.
receptive_female.note_de=Zehn bis vierzehn Tage nennt man für diese Gattung.
life_male=30;75
life_male.from=ours
life_female=90;150
life_female.from=ours
life_female.note=Keepers give the whole life: 8–9 months, males 6–7.
life_female.note_de=Halter nennen das ganze Leben: 8–9 Monate, Männchen 6–7.

[eggs]
incubation=28;42
incubation.from=practice
young=30;60
young.from=practice
guards=false
rest=false

[cue antennae]
says=either
odds=2
odds.from=ours
from_moults=5
from_moults.from=practice
from_moults.note=They differ after L5; sources disagree which sex has the longer ones: the reading says it.
from_moults.note_de=Sie unterscheiden sich nach L5; Quellen widersprechen sich, welches Geschlecht die längeren hat: Die Ablesung sagt es.

[sources]
faber=Faber 1994, J. Zool. (London), doi 10.1111/j.1469-7998.1994.tb01568.x: mean length ratio between successive instars of mantises 1.29 (an average over mantises, not of this species)
