# SPDX-License-Identifier: GPL-3.0-or-later
# Giant Asian mantis.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=Hierodula membranacea
common=giant Asian mantis
common_de=Indische Riesengottesanbeterin
group=hardy

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
stage_days=10;9;11;13;15;18;20
stage_days.from=practice;practice;practice;practice;practice;practice;ours
stage_days.note=Up to the sixth stage within the ranges that keepers use at 25–28 °C; the seventh is ours.
stage_days.note_de=Bis zum sechsten Stadium in den Spannen der Halter bei 25–28 °C; das siebte ist unseres.
before_subadult_days=22
before_subadult_days.from=practice
subadult_days=30
subadult_days.from=practice
male_factor=1
male_factor.from=ours
moults_male=6:.15;7:.70;8:.15
moults_male.from=ours
moults_male.note=Keepers say seven for males, eight for females; the spread is ours.
moults_male.note_de=Halter nennen sieben für Männchen, acht für Weibchen; die Streuung ist unsere.
moults_female=7:.20;8:.65;9:.15
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
adult_male_mm=75
adult_male_mm.from=practice
adult_female_mm=90.7
adult_female_mm.from=measured:length
adult_female_mm.other=85
adult_female_mm.other.from=practice
adult_female_mm.note=One entry gives 90.7 ± 3.1 mm, care sheets 85–100 mm.
adult_female_mm.note_de=Ein Eintrag nennt 90,7 ± 3,1 mm, Pflegeblätter 85–100 mm.
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
readable_from.note=From L4; large hatchlings from L3.
readable_from.note_de=Ab L4; große Schlüpflinge ab L3.
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
feed_m4=3;4
feed_m4.from=practice
feed_adult_female=3;4
feed_adult_female.from=practice
feed_adult_male=4;6
feed_adult_male.from=practice
feed_gravid=1;2
feed_gravid.from=practice
mist=2;3
mist.from=practice
clean=7;8
clean.from=practice
touch_m3=1
touch_m3.from=practice
touch_m4=2
touch_m4.from=practice
touch_subadult=3
touch_subadult.from=practice
touch_adult=5
touch_adult.from=practice
food_m3=1;1
food_m3.from=practice
food_m4=1;2
food_m4.from=practice
food_subadult=2;2
food_subadult.from=practice
food_adult=3;3
food_adult.from=practice
subadult_fast_days=10
subadult_fast_days.from=practice
split_moults=2
split_moults.from=practice
split_moults.note=Apart after the second or third stage.
split_moults.note_de=Nach dem zweiten oder dritten Stadium trennen.
prey_nymph=.5
prey_nymph.from=practice
prey_adult=.67
prey_adult.from=practice
prey_adult.other=1
prey_adult.other.from=practice
prey_adult.note=Up to two thirds of its own length, or up to its own length.
prey_adult.note_de=Bis zwei Drittel der eigenen Länge oder bis zur eigenen Länge.

[climate]
day=22;30
day.from=practice
day.other=20;28
day.other.from=practice
day.note=22–30 °C, or 20–28 °C in another sheet.
day.note_de=22–30 °C oder in einem anderen Blatt 20–28 °C.
night=18;22
night.from=practice
spot=-;-
spot.from=practice
look_above=34
look_above.from=practice
look_below=14
look_below.from=practice
humidity=60;70
humidity.from=practice

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
young=150;200
young.from=practice
guards=false
rest=false

[sources]
faber=Faber 1994, J. Zool. (London), doi 10.1111/j.1469-7998.1994.tb01568.x: mean length ratio between successive instars of mantises 1.29 (an average over mantises, not of this species)
length=body length of females 90.7 ± 3.1 mm, encyclopaedia entry on the species (weak grade: no paper behind it was read)
