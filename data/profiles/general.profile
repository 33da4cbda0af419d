# SPDX-License-Identifier: GPL-3.0-or-later
# Stands in where the species is unknown or has no profile of its own.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=unknown
common=unknown kind
common_de=unbekannte Art
group=hardy
general=true

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
stage_days=10;10;12;14;16;20
stage_days.from=practice
stage_days.note=Middles of the ladder that keepers use at 25–28 °C.
stage_days.note_de=Mitten der Leiter, mit der Halter bei 25–28 °C rechnen.
before_subadult_days=20
before_subadult_days.from=practice
subadult_days=27.5
subadult_days.from=practice
male_factor=1
male_factor.from=ours
moults_male=5:.10;6:.40;7:.40;8:.10
moults_male.from=ours
moults_male.note=Wide on purpose: the number varies within a species and within one egg case.
moults_male.note_de=Absichtlich weit: Die Zahl schwankt in einer Art und in einem Gelege.
moults_female=6:.25;7:.45;8:.25;9:.05
moults_female.from=ours
moults_female.note=Wide on purpose: the number varies within a species and within one egg case.
moults_female.note_de=Absichtlich weit: Die Zahl schwankt in einer Art und in einem Gelege.
sd_room=.18
sd_room.from=ours
sd_lot=.10
sd_lot.from=ours
sd_animal=.10
sd_animal.from=ours
sd_stage=.24
sd_stage.from=ours

[size]
adult_male_mm=-
adult_male_mm.from=ours
adult_male_mm.note=Unknown stays unknown.
adult_male_mm.note_de=Unbekannt bleibt unbekannt.
adult_female_mm=-
adult_female_mm.from=ours
ratio_body=1.28
ratio_body.from=ours
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
feed_m4=3;4
feed_m4.from=practice
feed_adult_female=3;4
feed_adult_female.from=practice
feed_adult_male=4;6
feed_adult_male.from=practice
feed_gravid=1;2
feed_gravid.from=practice
mist=2;4
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
split_moults.from=ours
split_moults.note=The careful side: kinds that must be parted earliest.
split_moults.note_de=Die vorsichtige Seite: Arten, die am frühesten getrennt werden.
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=22;28
day.from=practice
night=17;22
night.from=practice
spot=-;-
spot.from=practice
look_above=34
look_above.from=practice
look_below=14
look_below.from=practice
humidity=45;65
humidity.from=practice

[adult]
life_male=30;90
life_male.from=practice
life_female=90;240
life_female.from=practice
