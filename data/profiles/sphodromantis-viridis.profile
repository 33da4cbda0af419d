# SPDX-License-Identifier: GPL-3.0-or-later
# Giant African mantis.
# Stages are moults since hatch; days are at 25 °C. Format and tags: see DEVELOPERS.md.

[profile]
scientific=Sphodromantis viridis
common=giant African mantis
common_de=Afrikanische Riesengottesanbeterin
group=hardy
parthenogenetic=true
parthenogenetic.from=measured:bragg

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
stage_days=16;16;17;17;18;18;19
stage_days.from=ours
stage_days.note=Measured: 16–19 days for each stage at 25 °C (Abasa & Mathenge); the values within that range, short to long, are ours.
stage_days.note_de=Gemessen: 16–19 Tage für jedes Stadium bei 25 °C (Abasa & Mathenge); die Werte in dieser Spanne, kurz bis lang, sind unsere.
before_subadult_days=18.5
before_subadult_days.from=ours
subadult_days=19
subadult_days.from=ours
male_factor=1
male_factor.from=ours
moults_male=6:.25;7:.60;8:.15
moults_male.from=ours
moults_male.note=Measured: at least six. Keepers say seven; the spread is ours.
moults_male.note_de=Gemessen: mindestens sechs. Halter nennen sieben; die Streuung ist unsere.
moults_female=6:.05;7:.25;8:.60;9:.10
moults_female.from=ours
moults_female.note=Measured: at least six. Keepers say eight; the spread is ours.
moults_female.note_de=Gemessen: mindestens sechs. Halter nennen acht; die Streuung ist unsere.
sd_room=.18
sd_room.from=ours
sd_lot=.10
sd_lot.from=ours
sd_animal=.10
sd_animal.from=ours
sd_stage=.19
sd_stage.from=ours

[size]
adult_male_mm=61
adult_male_mm.from=practice
adult_female_mm=80
adult_female_mm.from=practice
adult_female_mm.other=105
adult_female_mm.other.from=practice
adult_female_mm.note=Most say 75–90 mm, some 100–110 mm.
adult_female_mm.note_de=Die meisten nennen 75–90 mm, manche 100–110 mm.
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
plates_male.other=7
plates_male.other.from=practice
plates_male.note=One page counts seven in males, six in females.
plates_male.note_de=Eine Seite zählt sieben bei Männchen, sechs bei Weibchen.
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
split_moults=1
split_moults.from=practice
split_moults.other=3
split_moults.other.from=practice
split_moults.note=Parted at L2 or as late as L4: the careful side counts.
split_moults.note_de=Getrennt bei L2 oder erst bei L4: Es gilt die vorsichtige Seite.
prey_nymph=.5
prey_nymph.from=practice
prey_adult=1
prey_adult.from=practice

[climate]
day=22;30
day.from=practice
day.other=25;35
day.other.from=practice
day.note=22–30 °C, or warmer: 25–35 °C.
day.note_de=22–30 °C oder wärmer: 25–35 °C.
night=17;22
night.from=practice
spot=-;-
spot.from=practice
look_above=35
look_above.from=practice
look_below=14
look_below.from=practice
humidity=45;60
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
incubation=35;70
incubation.from=practice
young=84;300
young.from=practice
young.note=The lower figure is a mean of one laboratory.
young.note_de=Die kleinere Zahl ist das Mittel eines Labors.
guards=false
rest=false

[sources]
faber=Faber 1994, J. Zool. (London), doi 10.1111/j.1469-7998.1994.tb01568.x: mean length ratio between successive instars of mantises 1.29 (an average over mantises, not of this species)
abasa=Abasa & Mathenge, E. Afr. Agric. For. J. 37(2):177–180: stadia of 16–19 d at 25 ± 1 °C, 65 ± 5 % RH, at least six moults
bragg=Bragg 2021, Parthenogenesis in mantids, mantodea.myspecies.info (facultative, very low hatch)
