# SPDX-License-Identifier: GPL-3.0-or-later
# Orchid mantis.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=Hymenopus coronatus
common=orchid mantis
common_de=Orchideenmantis
group=humid
damp_substrate=true
avoid_prey=cricket
avoid_prey.from=practice
avoid_prey.note=Some sheets list crickets for adults, others say that orchid mantises do not bear them.
avoid_prey.note_de=Manche Blätter nennen Grillen für Erwachsene, andere sagen, Orchideenmantiden vertrügen sie nicht.

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
stage_days=12;12;14;16;19;23;26
stage_days.from=practice;practice;practice;practice;ours;practice;ours
stage_days.note=Up to the fourth stage and in the sixth within the ranges that keepers use at 25–28 °C; the others are ours. A female of seven moults takes 129 days at 25 °C, a male of five 94.
stage_days.note_de=Bis zum vierten Stadium und im sechsten in den Spannen der Halter bei 25–28 °C; die anderen sind unsere. Ein Weibchen mit sieben Häutungen braucht bei 25 °C 129 Tage, ein Männchen mit fünf 94.
before_subadult_days=24
before_subadult_days.from=practice
subadult_days=32
subadult_days.from=practice
male_factor=1
male_factor.from=ours
moults_male=4:.05;5:.75;6:.20
moults_male.from=ours
moults_male.note=Keepers say five for males, seven for females; the spread is ours.
moults_male.note_de=Halter nennen fünf für Männchen, sieben für Weibchen; die Streuung ist unsere.
moults_female=6:.10;7:.75;8:.15
moults_female.from=ours
moults_female.note=Keepers say five for males, seven for females; the spread is ours.
moults_female.note_de=Halter nennen fünf für Männchen, sieben für Weibchen; die Streuung ist unsere.
sd_room=.18
sd_room.from=ours
sd_lot=.10
sd_lot.from=ours
sd_animal=.10
sd_animal.from=ours
sd_stage=.19
sd_stage.from=ours

[size]
adult_male_mm=31
adult_male_mm.from=practice
adult_female_mm=64
adult_female_mm.from=practice
adult_female_mm.other=76
adult_female_mm.other.from=practice
adult_female_mm.note=50–75 mm in most sheets, 64–89 mm in one.
adult_female_mm.note_de=50–75 mm in den meisten Blättern, 64–89 mm in einem.
ratio_body=1.29
ratio_body.from=measured:faber
ratio_head=1.20
ratio_head.from=ours

[sex]
male_prior=.5
male_prior.from=ours
readable_from=3
readable_from.from=practice
readable_from.other=2
readable_from.other.from=practice
readable_from.note=From L3 or from L4.
readable_from.note_de=Ab L3 oder ab L4.
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
split_moults=2
split_moults.from=practice
split_moults.note=Apart at L3; males may share a home when they are fed.
split_moults.note_de=Bei L3 trennen; Männchen dürfen zusammen wohnen, wenn sie satt sind.
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=24;29
day.from=practice
day.other=25;28
day.other.from=practice
day.note=24–29 °C in one sheet, 22–30 °C with 25–28 °C best in others.
day.note_de=24–29 °C in einem Blatt, 22–30 °C mit 25–28 °C als bestem Bereich in anderen.
night=19;22
night.from=practice
spot=-;-
spot.from=practice
look_above=32
look_above.from=practice
look_below=17
look_below.from=practice
humidity=60;80
humidity.from=practice
humidity.other=70;90
humidity.other.from=practice
humidity.note=Some ask for 70–90 %.
humidity.note_de=Manche verlangen 70–90 %.

[adult]
receptive_male=14;42
receptive_male.from=practice
receptive_female=28;56
receptive_female.from=practice
receptive_female.note=Keepers tell four to eight weeks; some pair earlier.
receptive_female.note_de=Halter nennen vier bis acht Wochen; manche verpaaren früher.
life_male=30;75
life_male.from=ours
life_male.note=Keepers give the whole life: 5–7 months.
life_male.note_de=Halter nennen das ganze Leben: 5–7 Monate.
life_female=120;240
life_female.from=ours
life_female.note=Keepers give the whole life: 8–16 months.
life_female.note_de=Halter nennen das ganze Leben: 8–16 Monate.

[eggs]
incubation=28;42
incubation.from=practice
young=50;100
young.from=practice
guards=false
rest=false

[cue collar]
says=either
odds=4
odds.from=ours
from_moults=4
from_moults.from=practice
from_moults.note=Green under the neck shield in females (brown in some), red-brown in males.
from_moults.note_de=Bei Weibchen grün unter dem Halsschild (bei manchen braun), bei Männchen rotbraun.

[cue brow]
says=either
odds=4
odds.from=ours
from_moults=4
from_moults.from=practice
from_moults.other=3
from_moults.other.from=practice
from_moults.note=A bump between the eyes in females, flat in males; from L4–L5.
from_moults.note_de=Ein Höcker zwischen den Augen bei Weibchen, flach bei Männchen; ab L4–L5.

[cue leg-lobes]
says=female
odds=2
odds.from=ours
from_moults=4
from_moults.from=practice
from_moults.note=Lobes of the hind legs much larger in females.
from_moults.note_de=Lappen der Hinterbeine bei Weibchen viel größer.

[sources]
faber=Faber 1994, J. Zool. (London), doi 10.1111/j.1469-7998.1994.tb01568.x: mean length ratio between successive instars of mantises 1.29 (an average over mantises, not of this species)
